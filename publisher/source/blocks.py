"""Block Markdown with exact places: markdown-it-py's tokens to blocks."""

from __future__ import annotations

from collections.abc import Callable

from markdown_it import MarkdownIt
from markdown_it.token import Token

from publisher.diagnostics import Diagnostic, Place, Span
from publisher.source import inlines
from publisher.source.laying import cell_texts, heading_text, lay_lines, shown
from publisher.source.markdown import BEGINS, MAX_NESTING, markdown
from publisher.source.text import MappedText, SourceText, plain_mapping
from publisher.source.types import (
    Block,
    Cell,
    CodeBlock,
    Fence,
    Heading,
    Image,
    Inline,
    ItemList,
    ListItem,
    Paragraph,
    Picture,
    Quote,
    Row,
    Rule,
    Table,
)


def read_blocks(source: SourceText, first_line: int) -> tuple[tuple[Block, ...], list[Diagnostic]]:
    """The blocks from ``first_line`` (from 0) to the end of the file, in reading order."""
    md = markdown()
    lines = [source.line(i) for i in range(first_line, len(source.line_starts))]
    text = shown("\n".join(lines))
    env: dict[str, object] = {}
    tokens: list[Token] = []
    md.block.parse(text, md, env, tokens)
    builder = _Builder(md, env, source, first_line, tokens)
    return builder.until(None), builder.findings


class _Builder:
    def __init__(
        self,
        md: MarkdownIt,
        env: dict[str, object],
        source: SourceText,
        first_line: int,
        tokens: list[Token],
    ) -> None:
        self.md = md
        self.env = env
        self.source = source
        self.first_line = first_line
        self.tokens = tokens
        self.position = 0
        self.findings: list[Diagnostic] = []

    # ------------------------------------------------------------ walking

    def until(self, closing: str | None) -> tuple[Block, ...]:
        """Blocks up to the token of type ``closing``, which is taken."""
        blocks: list[Block] = []
        while self.position < len(self.tokens):
            token = self.tokens[self.position]
            self.position += 1
            if token.type == closing:
                break
            block = self._block(token)
            if block is not None:
                blocks.append(block)
        return tuple(blocks)

    def _block(self, token: Token) -> Block | None:
        if token.nesting == 1 and token.level >= MAX_NESTING - 1:
            message = "lists and quotes stand too deep within each other here"
            self._complain("nested-too-deep", message, self._span(token))
        match token.type:
            case "paragraph_open":
                return self._paragraph(token)
            case "heading_open":
                return self._heading(token)
            case "bullet_list_open" | "ordered_list_open":
                return self._list(token)
            case "blockquote_open":
                return Quote(self.until("blockquote_close"), self._span(token))
            case "table_open":
                return self._table(token)
            case "fence":
                return self._fence(token)
            case "code_block":
                return CodeBlock(token.content, self._span(token))
            case "hr":
                return Rule(self._span(token))
            case _:
                return None

    def _paragraph(self, token: Token) -> Block | None:
        inner = self._inline_of_next(self._paragraph_text)
        self.position += 1  # paragraph_close
        if not inner:
            return None
        span = self._span(token)
        if len(inner) == 1 and isinstance(inner[0], Image):
            return Picture(inner[0], span)
        return Paragraph(inner, span)

    def _heading(self, token: Token) -> Heading:
        is_line = token.markup.startswith("#")
        inner = self._inline_of_next(self._heading_text if is_line else self._paragraph_text)
        self.position += 1  # heading_close
        return Heading(int(token.tag[1:]), inner, self._span(token))

    def _list(self, token: Token) -> ItemList:
        numbered = token.type == "ordered_list_open"
        closing = token.type.replace("_open", "_close")
        items: list[ListItem] = []
        tight = True
        while self.position < len(self.tokens):
            item = self.tokens[self.position]
            self.position += 1
            if item.type == closing:
                break
            inner_at = self.position
            items.append(ListItem(self.until("list_item_close"), self._span(item)))
            tight = tight and all(
                t.hidden
                for t in self.tokens[inner_at : self.position]
                if t.type == "paragraph_open" and t.level == item.level + 1
            )
        return ItemList(
            numbered=numbered,
            first=int(token.attrs.get("start", 1)) if numbered else 1,
            tight=tight,
            items=tuple(items),
            span=self._span(token),
        )

    def _table(self, token: Token) -> Table:
        rows: list[Row] = []
        aligns: list[str] = []
        while self.position < len(self.tokens):
            inner = self.tokens[self.position]
            self.position += 1
            if inner.type == "table_close":
                break
            if inner.type == "tr_open":
                rows.append(self._row(inner, aligns if not rows else None))
        return Table(rows[0], tuple(rows[1:]), tuple(aligns), self._span(token))

    def _row(self, token: Token, aligns: list[str] | None) -> Row:
        columns = cell_texts(self.source, self._begin(token), self._line_end(token))
        cells: list[Cell] = []
        while self.position < len(self.tokens):
            inner = self.tokens[self.position]
            self.position += 1
            if inner.type == "tr_close":
                break
            if inner.type in ("td_open", "th_open") and aligns is not None:
                aligns.append(str(inner.attrs.get("style", "")).removeprefix("text-align:"))
            if inner.type == "inline":
                end = self._line_end(token)
                empty = MappedText("", (end,), self.source)
                text = columns[len(cells)] if len(cells) < len(columns) else empty
                found = self._read(text)
                cells.append(Cell(found, text.span(0, len(text.text))))
        return Row(tuple(cells), self._span(token))

    def _fence(self, token: Token) -> Fence | CodeBlock:
        first, after = self._lines(token)
        line_end = self.source.line_ends[first]
        info_at = line_end - len(token.info)
        # The last line of an open fence may be the file's, without a line break.
        whole = token.content.endswith("\n")
        body_lines = token.content.removesuffix("\n").split("\n") if token.content else []
        span = self._span(token)
        if after - first - 1 == len(body_lines):
            marks = token.markup
            self._complain(
                "fence-not-closed",
                f"this fence has no closing line of {marks}",
                self.source.span(info_at - len(marks), info_at),
            )
        words = token.info.split(maxsplit=1)
        if not words:
            return CodeBlock(token.content, span)
        kind_at = info_at + token.info.index(words[0])
        kind_end = kind_at + len(words[0])
        header = plain_mapping(self.source, kind_end, line_end)
        return Fence(
            kind=words[0].lower(),
            header=header.trimmed(),
            body=lay_lines(self.source, body_lines, first + 1, closed=whole),
            kind_span=self.source.span(kind_at, kind_end),
            span=span,
        )

    # ------------------------------------------------------------ places

    def _lines(self, token: Token) -> tuple[int, int]:
        """First line and the line after the last, in the whole file."""
        first, after = token.map or (0, 1)
        return first + self.first_line, after + self.first_line

    def _line_end(self, token: Token) -> int:
        return self.source.line_ends[self._lines(token)[0]]

    def _begin(self, token: Token) -> int:
        return self._line_end(token) - int(token.meta.get(BEGINS, 0))

    def _span(self, token: Token) -> Span:
        """From its first character to the end of its last line that holds anything."""
        first, after = self._lines(token)
        last = after - 1
        while last > first and not self.source.line(last).strip(" \t>"):
            last -= 1
        begin = self._begin(token)
        return self.source.span(begin, max(begin, self.source.line_ends[last]))

    def _inline_of_next(self, place: Callable[[Token], MappedText]) -> tuple[Inline, ...]:
        token = self.tokens[self.position]
        self.position += 1
        return self._read(place(token))

    def _read(self, text: MappedText) -> tuple[Inline, ...]:
        found, findings = inlines.read_inlines(self.md, self.env, text)
        self.findings.extend(findings)
        return found

    def _paragraph_text(self, token: Token) -> MappedText:
        first, _ = self._lines(token)
        return lay_lines(self.source, token.content.split("\n"), first, closed=False)

    def _heading_text(self, token: Token) -> MappedText:
        return heading_text(self.source, self._begin(token), self._line_end(token))

    def _complain(self, code: str, message: str, span: Span) -> None:
        self.findings.append(Diagnostic(code, "error", message, (Place(span),)))
