"""Inline Markdown with exact places.

markdown-it-py gives no places inside a paragraph. Its rules are wrapped here: what a rule has
added to the token list came from the characters between where it began and where it stopped.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Literal

from markdown_it import MarkdownIt, rules_inline
from markdown_it.parser_inline import ParserInline
from markdown_it.rules_inline import StateInline
from markdown_it.token import Token

from publisher.diagnostics import Diagnostic, Place
from publisher.source.text import MappedText
from publisher.source.types import (
    Break,
    Code,
    Emph,
    Image,
    Inline,
    Link,
    Spoken,
    Strong,
    Text,
)

InlineRule = Callable[[StateInline, bool], bool]

MAX_IMAGES_IN_IMAGES = 4
"""An image's alternative text can hold an image; deeper than this it is plain text."""

_AT = "at"  # the key under which a token's (start, end) within its paragraph is kept


class _PlacedState(StateInline):
    """Remembers where the plain text that waits to become a token began."""

    waiting_from: int | None = None

    def append_pending(self, text: str) -> None:
        if self.waiting_from is None:
            self.waiting_from = self.pos
        super().append_pending(text)

    def pushPending(self) -> Token:  # noqa: N802
        start = self.waiting_from or 0
        token = super().pushPending()
        token.meta[_AT] = (start, start + len(token.content))
        self.waiting_from = None
        return token

    def push(self, ttype: str, tag: str, nesting: Literal[-1, 0, 1]) -> Token:
        token = super().push(ttype, tag, nesting)
        self.waiting_from = None
        return token


def _placed(rule: InlineRule) -> InlineRule:
    def wrapped(state: StateInline, silent: bool) -> bool:
        if silent:
            return rule(state, True)
        start, known = state.pos, len(state.tokens)
        if not rule(state, False):
            return False
        marks = 0
        for token in state.tokens[known:]:
            if _AT in token.meta:
                continue
            if token.type == "text":
                # Marks of emphasis are pushed one token for each character.
                size = len(token.content)
                token.meta[_AT] = (start + marks, start + marks + size)
                marks += size
            else:
                token.meta[_AT] = (start, state.pos)
        return True

    return wrapped


def _spoken(state: StateInline, silent: bool) -> bool:
    """``{expression}``."""
    if state.src[state.pos] != "{":
        return False
    end = state.src.find("}", state.pos, state.posMax)
    if end < 0 or state.src.find("{", state.pos + 1, end) >= 0:
        return False
    if not silent:
        state.push("spoken", "", 0)
    state.pos = end + 1
    return True


def _comment(state: StateInline, silent: bool) -> bool:
    """``<!-- for the author only -->``."""
    if not state.src.startswith("<!--", state.pos):
        return False
    end = state.src.find("-->", state.pos + 4, state.posMax)
    if end < 0:
        return False
    if not silent:
        state.push("comment", "", 0)
    state.pos = end + 3
    return True


class _Inline(ParserInline):
    def parse(self, src: str, md: MarkdownIt, env: object, tokens: list[Token]) -> list[Token]:
        """Nothing: it is asked only for the text of images, which is read here with places."""
        return tokens


def prepare(md: MarkdownIt) -> None:
    """Make the inline rules of ``md`` tell their places."""
    md.inline = _Inline()
    ruler = md.inline.ruler
    ruler.disable(["linkify", "strikethrough", "html_inline"])
    for name, rule in (
        ("newline", rules_inline.newline),
        ("escape", rules_inline.escape),
        ("backticks", rules_inline.backtick),
        ("emphasis", rules_inline.emphasis.tokenize),
        ("link", rules_inline.link),
        ("image", rules_inline.image),
        ("autolink", rules_inline.autolink),
        ("entity", rules_inline.entity),
    ):
        ruler.at(name, _placed(rule))
    ruler.before("newline", "spoken", _placed(_spoken))
    ruler.before("newline", "comment", _placed(_comment))
    # Text is joined here, where its places are known.
    md.inline.ruler2.disable("fragments_join")


def read_inlines(
    md: MarkdownIt, env: dict[str, object], content: MappedText, depth: int = 0
) -> tuple[tuple[Inline, ...], list[Diagnostic]]:
    """The inlines of one paragraph, heading or cell; ``depth`` counts images around it."""
    state = _PlacedState(content.text, md, env, [])
    md.inline.tokenize(state)
    for rule in md.inline.ruler2.getRules(""):
        rule(state)
    builder = _Builder(md, env, content, state.tokens, depth)
    return builder.until(None), builder.findings


class _Builder:
    def __init__(
        self,
        md: MarkdownIt,
        env: dict[str, object],
        content: MappedText,
        tokens: list[Token],
        depth: int,
    ) -> None:
        self.md = md
        self.env = env
        self.content = content
        self.tokens = tokens
        self.depth = depth
        self.position = 0
        self.findings: list[Diagnostic] = []

    def until(self, closing: str | None) -> tuple[Inline, ...]:
        """Nodes up to the token of type ``closing``, which is not taken."""
        nodes: list[Inline] = []
        while self.position < len(self.tokens):
            token = self.tokens[self.position]
            if token.type == closing:
                break
            self.position += 1
            node = self._node(token)
            if node is None:
                continue
            before = nodes[-1] if nodes else None
            if isinstance(node, Text) and isinstance(before, Text) and _joined(before, node):
                nodes[-1] = self._both(before, node)
            else:
                nodes.append(node)
        return tuple(nodes)

    def _both(self, a: Text, b: Text) -> Text:
        return Text(a.text + b.text, self.content.source.span(a.span.start, b.span.end))

    def _node(self, token: Token) -> Inline | None:
        start, end = token.meta.get(_AT, (0, 0))
        span = self.content.span(start, end)
        match token.type:
            case "text":
                if not token.content:
                    return None
                self._look_for_braces(start, end)
                # In a table \| is one sign already, and a null character is replaced.
                written = self.content.source.text[span.start : span.end]
                return Text(token.content, span, escaped=written != token.content)
            case "text_special":
                return Text(token.content, span, escaped=True)
            case "softbreak" | "hardbreak":
                return Break(token.type == "hardbreak", span)
            case "code_inline":
                return Code(token.content, span)
            case "spoken":
                return self._spoken(start, end)
            case "image":
                return self._image(token, start, end)
            case "em_open" | "strong_open" | "link_open":
                return self._nested(token, start)
            case _:
                return None

    def _nested(self, token: Token, start: int) -> Inline:
        closing = token.type.replace("_open", "_close")
        if token.markup == "autolink":
            inner: tuple[Inline, ...] = self._autolink_text()
        else:
            inner = self.until(closing)
        end = start
        if self.position < len(self.tokens):
            end = self.tokens[self.position].meta[_AT][1]
            self.position += 1
        if token.type == "em_open":
            return Emph(inner, self.content.span(start, end))
        if token.type == "strong_open":
            # The outer of each two marks has been emptied by the emphasis rule.
            return Strong(inner, self.content.span(start - 1, end + 1))
        return Link(
            href=str(token.attrs.get("href", "")),
            title=str(token.attrs.get("title", "")),
            inlines=inner,
            span=self.content.span(start, end),
        )

    def _autolink_text(self) -> tuple[Inline, ...]:
        token = self.tokens[self.position]
        self.position += 1
        start, end = self.tokens[self.position].meta[_AT]
        escaped = token.content != self.content.text[start + 1 : end - 1]
        return (Text(token.content, self.content.span(start + 1, end - 1), escaped),)

    def _image(self, token: Token, start: int, end: int) -> Image:
        alt_start = start + len("![")
        content = self.content.part(alt_start, alt_start + len(token.content))
        alt: tuple[Inline, ...] = (Text(content.text, content.span(0, len(content.text)), True),)
        if self.depth < MAX_IMAGES_IN_IMAGES:
            alt, findings = read_inlines(self.md, self.env, content, self.depth + 1)
            self.findings.extend(findings)
        return Image(
            src=str(token.attrs.get("src", "")),
            title=str(token.attrs.get("title", "")),
            alt=alt,
            span=self.content.span(start, end),
        )

    def _spoken(self, start: int, end: int) -> Inline | None:
        inside = self.content.part(start + 1, end - 1)
        span = self.content.span(start, end)
        if not inside.text.strip():
            self._complain(start, end, "nothing stands between { and }", "‘{tab}’ prints a size")
            return None
        return Spoken(inside, span)

    def _look_for_braces(self, start: int, end: int) -> None:
        for at in range(start, end):
            if self.content.text[at] == "{":
                self._complain(at, at + 1, "this { has no } after it", "For the sign write \\{")

    def _complain(self, start: int, end: int, message: str, note: str) -> None:
        place = Place(self.content.span(start, end))
        self.findings.append(Diagnostic("brace", "error", message, (place,), notes=(note,)))


def _joined(a: Text, b: Text) -> bool:
    return not a.escaped and not b.escaped and a.span.end == b.span.start
