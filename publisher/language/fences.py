"""The fences of a document, each line parsed by itself; names are not looked up yet."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from msgspec import Struct, field
from msgspec.structs import replace

from publisher.diagnostics import Diagnostic, Place, Span
from publisher.language import ast
from publisher.language.build import Builder
from publisher.language.expressions import words_of
from publisher.language.indented import moved_in
from publisher.language.lexer import lex
from publisher.language.lines import Line, read_lines
from publisher.language.opening import Opening, read_opening
from publisher.language.parser import Node, Token, Unexpected, parse_line
from publisher.language.words import Mode
from publisher.source import Document, MappedText
from publisher.source.types import (
    Block,
    Cell,
    CodeBlock,
    Emph,
    Fence,
    Heading,
    Image,
    Inline,
    ItemList,
    Link,
    Paragraph,
    Picture,
    Quote,
    Spoken,
    Strong,
    Table,
    Text,
)

_RULES: dict[Mode, str] = {
    "header": "header",
    "piece": "statement",
    "step": "statement",
    "fits": "claim",
    "spoken": "spoken",
}


class Fences(Struct):
    """What the fences say, in reading order."""

    sizes: list[ast.SizeDefinition] = field(default_factory=list)
    variants: list[ast.Variant] = field(default_factory=list)
    pieces: list[ast.PieceDesign] = field(default_factory=list)
    steps: list[ast.StepDesign] = field(default_factory=list)
    claims: list[ast.FitClaim] = field(default_factory=list)
    spoken: dict[Span, ast.Expr] = field(default_factory=dict)
    lost: set[str] = field(default_factory=set)
    """Names that refused lines would have given."""
    findings: list[Diagnostic] = field(default_factory=list)


def read_fences(document: Document) -> Fences:
    """Every fence and every spoken expression."""
    reader = _Reader(document)
    reader.blocks(document.blocks)
    return reader.found


class _Reader:
    def __init__(self, document: Document) -> None:
        self.is_form = document.form is not None
        self.text = document.source.text
        self.found = Fences()
        self.heading: Heading | None = None

    def blocks(self, blocks: Iterable[Block]) -> None:
        for block in blocks:
            match block:
                case Heading():
                    self.heading = block
                    self._inlines(block.inlines)
                case Paragraph():
                    self._inlines(block.inlines)
                case Picture():
                    self._inlines((block.image,))
                case Quote():
                    self.blocks(block.blocks)
                case ItemList():
                    for item in block.items:
                        self.blocks(item.blocks)
                case Table():
                    for row in (block.header, *block.rows):
                        self._cells(row.cells)
                case Fence():
                    self._fence(block)
                case CodeBlock():
                    self._wordless(block)
                case _:
                    pass

    def _cells(self, cells: Iterable[Cell]) -> None:
        for cell in cells:
            self._inlines(cell.inlines)

    def _inlines(self, inlines: Iterable[Inline]) -> None:
        for node in inlines:
            match node:
                case Spoken():
                    self._spoken(node)
                case Emph() | Strong() | Link():
                    self._inlines(node.inlines)
                case Image():
                    self._inlines(node.alt)
                case _:
                    pass

    # ------------------------------------------------------------ lines

    def _lines(self, body: MappedText, mode: Mode) -> Iterator[tuple[Builder, Node]]:
        text, lines, spoiled, findings = read_lines(body)
        self.found.findings.extend(findings)
        for line in spoiled:
            self.found.lost.update(_lost_names(lex(body, text, line, mode).tokens))
        builder = Builder(body)
        for line in lines:
            node = self._line(body, text, line, mode)
            if node is not None:
                yield builder, node

    def _line(self, body: MappedText, text: str, line: Line, mode: Mode) -> Node | None:
        lexed = lex(body, text, line, mode)
        self.found.findings.extend(lexed.findings)
        tokens = lexed.tokens
        moved = moved_in(body, text, line, mode) if mode in ("piece", "step") else None
        if moved is not None:
            self.found.findings.append(moved)
        if moved is not None or not lexed.whole:
            self.found.lost.update(_lost_names(tokens))
            return None
        rule = _RULES.get(mode)
        if rule is None:
            rule = "variant" if tokens and tokens[0].kind == "VARIANT" else "size"
        parsed = parse_line(rule, tokens)
        if isinstance(parsed, Unexpected):
            # One finding for one line: what the lexer has said explains the rest.
            if not lexed.findings:
                from publisher.language.turns import refused  # only such a line waits for it

                self.found.findings.append(refused(body, text, line, tokens, parsed, mode))
        elif not lexed.findings:
            return parsed
        self.found.lost.update(_lost_names(tokens))
        return None

    def _spoken(self, node: Spoken) -> None:
        text = node.expression.text
        stripped = text.strip()
        start = text.index(stripped)
        line = Line(start, start + len(stripped))
        parsed = self._line(node.expression, text, line, "spoken")
        if parsed is not None:
            self.found.spoken[node.span] = Builder(node.expression).expr(parsed.parts[0])

    # ------------------------------------------------------------ fences

    def _fence(self, fence: Fence) -> None:
        match fence.kind:
            case "sizes":
                self._no_header(fence, "Sizes belong to the whole pattern")
                self._sizes(fence)
            case "piece":
                self._piece(fence)
            case "step":
                self._no_header(fence, "A step takes its name from the heading above it")
                self._step(fence)
            case "fits":
                self._no_header(fence, "What fits belongs to the whole pattern")
                for builder, node in self._lines(fence.body, "fits"):
                    self.found.claims.append(builder.claim(node))
            case _:
                near = self._unknown_kind(fence)
                if near is not None:
                    self._fence(replace(fence, kind=near))

    def _sizes(self, fence: Fence) -> None:
        for builder, node in self._lines(fence.body, "sizes"):
            if node.name == "variant":
                self.found.variants.append(builder.variant(node))
                continue
            size = builder.size(node)
            self.found.sizes.append(size)
            if size.asked and not self.is_form:
                message = "‘asked’ belongs in a form; here the size needs a value"
                self._error("asked", message, size.span)

    def _step(self, fence: Fence) -> None:
        statements = tuple(b.statement(n) for b, n in self._lines(fence.body, "step"))
        heading = self.heading
        self.found.steps.append(
            ast.StepDesign(
                heading="" if heading is None else plain_text(heading.inlines),
                heading_span=None if heading is None else heading.span,
                statements=statements,
                fence=fence.span,
            )
        )

    def _piece(self, fence: Fence) -> None:
        opening = self._opening(fence)
        statements = tuple(b.statement(n) for b, n in self._lines(fence.body, "piece"))
        if opening is None:
            return
        self.found.pieces.append(
            ast.PieceDesign(
                name=opening.name,
                stock=opening.stock,
                copies=opening.copies,
                back_up=opening.back_up,
                statements=statements,
                header_span=fence.header.span(0, len(fence.header.text)),
                fence=fence.span,
            )
        )

    def _opening(self, fence: Fence) -> Opening | None:
        text = fence.header.text
        if not text:
            message = "this piece has no name: write ‘piece drawer, in card’"
            self._error("syntax", message, fence.kind_span)
            return None
        node = self._line(fence.header, text, Line(0, len(text)), "header")
        if node is None:
            return None
        opening = read_opening(*Builder(fence.header).header(node))
        self.found.findings.extend(opening.faults)
        if opening.stock is None and not opening.faults and not self.is_form:
            name = opening.name
            self._error(
                "missing-stock",
                f"in which paper? Add for example ‘in card’: ‘piece {name.text}, in card’",
                name.span,
            )
        return opening

    def _no_header(self, fence: Fence, why: str) -> None:
        if fence.header.text:
            span = fence.header.span(0, len(fence.header.text))
            self._error("syntax", f"nothing stands after ‘{fence.kind}’ here. {why}", span)

    def _unknown_kind(self, fence: Fence) -> str | None:
        """The kind that was meant: it is read as that, so that nothing else is told of it."""
        from publisher.language.fence_kinds import meant_kind  # most booklets have none

        meant = meant_kind(fence)
        if meant is not None:
            self.found.findings.append(meant[1])
        return None if meant is None else meant[0]

    def _wordless(self, block: CodeBlock) -> None:
        from publisher.language.fence_kinds import wordless  # most booklets have none

        self.found.findings.extend(wordless(block, self.text))

    def _error(self, code: str, message: str, span: Span) -> None:
        self.found.findings.append(Diagnostic(code, "error", message, (Place(span),)))


def _lost_names(tokens: Sequence[Token]) -> list[str]:
    """What a refused line would have named: so that no other line is told it is unknown."""
    names: list[str] = []
    listed = False
    for index, token in enumerate(tokens):
        before = tokens[index - 1].kind if index > 0 else ""
        listed = listed or token.kind == "COLON"
        opens = before in ("", "HEAD", "VARIANT", "CALLED") or (
            listed and before in ("COLON", "COMMA")
        )
        if token.kind == "HEAD" or (token.kind == "NAME" and opens):
            names.append(words_of(token.text))
    return names


def plain_text(inlines: Iterable[Inline]) -> str:
    """The words of a heading; a spoken size stands in its braces."""
    said: list[str] = []
    for node in inlines:
        match node:
            case Text():
                said.append(node.text)
            case Spoken():
                said.append("{" + node.expression.text + "}")
            case Emph() | Strong() | Link():
                said.append(plain_text(node.inlines))
            case Image():
                said.append(plain_text(node.alt))
            case _:
                said.append(getattr(node, "text", " "))
    return " ".join("".join(said).split())
