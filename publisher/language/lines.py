"""A fence's text in lines: comments taken out, indented lines joined to the one they continue."""

from __future__ import annotations

import re

from msgspec import Struct

from publisher.diagnostics import Diagnostic, Edit, Place, WayOut
from publisher.source import MappedText

_INCHES = re.compile(r"(?<![\w.\"“])(\d(?:[\d./ ]*\d)?)[\"”“]")
"""A figure with the sign for inches behind it."""
OPENING_QUOTES = {'"': '"', "“": "”", "„": "“"}
_MARKS = re.compile("[#" + "".join(OPENING_QUOTES) + "]")


class Line(Struct, frozen=True):
    """One statement: ``text[start:end]`` of the fence, continuation lines with it."""

    start: int
    end: int


def read_lines(
    body: MappedText,
) -> tuple[str, tuple[Line, ...], tuple[Line, ...], list[Diagnostic]]:
    """The text with comments made blank (so that offsets stay), its lines, and spoiled ones.

    A line that is indented more than the first one continues the line before it. A line with
    a quotation mark that is not closed is reported and left out; it is spoiled from there on.
    """
    masked: list[str] = []
    spoiled: set[int] = set()
    findings: list[Diagnostic] = []
    at = 0
    for line in body.text.split("\n"):
        shown, open_quote = _without_comment(line)
        if open_quote is not None:
            spoiled.add(at)
            findings.append(_open_quote(body, at, line, open_quote))
        masked.append(shown)
        at += len(line) + 1
    text = "\n".join(masked)
    lines, bad = _joined(masked, spoiled)
    cut = tuple(Line(b.start, _mark_in(text, b)) for b in bad)
    return text, lines, cut, findings


def _mark_in(text: str, line: Line) -> int:
    marks = [text.find(mark, line.start, line.end) for mark in OPENING_QUOTES]
    return min((at for at in marks if at >= 0), default=line.end)


def _open_quote(body: MappedText, at: int, line: str, quote: int) -> Diagnostic:
    inch = _INCHES.search(line)
    if inch is not None:
        span = body.span(at + inch.start(), at + inch.end())
        said = f"{inch[1]} in"
        return Diagnostic(
            "quotation-mark",
            "error",
            f"inches are written ‘{said}’; quotation marks stand round words",
            (Place(span),),
            ways_out=(WayOut(f"write ‘{said}’", Edit(span, said)),),
        )
    span = body.span(at + quote, at + len(line.rstrip()))
    message = f"the quotation mark {line[quote]} is not closed on this line"
    return Diagnostic("quotation-mark", "error", message, (Place(span),))


def _without_comment(line: str) -> tuple[str, int | None]:
    """The line with its comment blank, and where a quotation mark is left open."""
    if _MARKS.search(line) is None:
        return line, None
    closing = ""
    opened = 0
    for at, char in enumerate(line):
        if closing:
            if char == closing or (closing == "”" and char == '"'):
                closing = ""
        elif char in OPENING_QUOTES:
            closing, opened = OPENING_QUOTES[char], at
        elif char == "#":
            return line[:at] + " " * (len(line) - at), None
    return line, opened if closing else None


def _joined(lines: list[str], spoiled: set[int]) -> tuple[tuple[Line, ...], tuple[Line, ...]]:
    """The lines, and those with a spoiled one among theirs."""
    found: list[Line] = []
    bad: set[int] = set()
    margin: int | None = None
    at = 0
    for line in lines:
        end = at + len(line.rstrip())
        if line.strip():
            indent = len(line.expandtabs(8)) - len(line.expandtabs(8).lstrip())
            if margin is None:
                margin = indent
            if found and indent > margin:
                found[-1] = Line(found[-1].start, end)
            else:
                found.append(Line(at + len(line) - len(line.lstrip()), end))
            if at in spoiled:
                bad.add(len(found) - 1)
        at += len(line) + 1
    whole = tuple(line for number, line in enumerate(found) if number not in bad)
    return whole, tuple(found[number] for number in sorted(bad))
