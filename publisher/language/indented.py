"""A line that was moved in by a slip, and so is read as the end of the line before it."""

from __future__ import annotations

import re
from collections.abc import Iterator

from publisher.diagnostics import Diagnostic, Edit, Place, WayOut
from publisher.language.lexer import lex
from publisher.language.lines import Line
from publisher.language.parser import Unexpected, parse_line
from publisher.language.statements import STATEMENTS, Where
from publisher.source import MappedText

_BREAK = re.compile(r"\n([ \t]+)([a-z]+)\b")


def moved_in(body: MappedText, text: str, line: Line, where: Where) -> Diagnostic | None:
    """A finding where the line goes on in one that would be a whole line by itself.

    Such a line begins with a first word, the one before it does not end with a comma, and both
    can be read alone: what goes on after ``of`` or ``and`` is no slip.
    """
    for gap, word in _breaks(text, line, where):
        first, second = Line(line.start, gap), Line(word, line.end)
        if not (_whole(body, text, first, where) and _whole(body, text, second, where)):
            continue
        head = text[word:].split(None, 1)[0]
        indent = body.span(text.index("\n", gap) + 1, word)
        return Diagnostic(
            "syntax",
            "error",
            f"‘{head}’ begins with spaces, so it is read as the end of the line before it",
            (Place(body.span(word, word + len(head))),),
            ways_out=(WayOut("take the spaces before it away", Edit(indent, "")),),
        )
    return None


def _breaks(text: str, line: Line, where: Where) -> Iterator[tuple[int, int]]:
    """Where the line before ends and where a first word follows it."""
    for found in _BREAK.finditer(text, line.start, line.end):
        before = text[line.start : found.start()].rstrip()
        if found[2] in STATEMENTS[where] and not before.endswith((",", ":", "=")):
            yield line.start + len(before), found.start(2)


def _whole(body: MappedText, text: str, line: Line, where: Where) -> bool:
    lexed = lex(body, text, line, where)
    parsed = parse_line("statement", lexed.tokens) if lexed.whole else None
    return not (parsed is None or lexed.findings or isinstance(parsed, Unexpected))
