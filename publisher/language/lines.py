"""A fence's text in lines: comments taken out, indented lines joined to the one they continue."""

from __future__ import annotations

from msgspec import Struct

from publisher.diagnostics import Diagnostic, Place
from publisher.source import MappedText

OPENING_QUOTES = {'"': '"', "“": "”", "„": "“"}


class Line(Struct, frozen=True):
    """One statement: ``text[start:end]`` of the fence, continuation lines with it."""

    start: int
    end: int


def read_lines(body: MappedText) -> tuple[str, tuple[Line, ...], list[Diagnostic]]:
    """The text with comments made blank (so that offsets stay), and its lines.

    A line that is indented more than the first one continues the line before it. A line with
    a quotation mark that is not closed is reported and left out.
    """
    masked: list[str] = []
    spoiled: set[int] = set()
    findings: list[Diagnostic] = []
    at = 0
    for line in body.text.split("\n"):
        shown, open_quote = _without_comment(line)
        if open_quote is not None:
            spoiled.add(at)
            span = body.span(at + open_quote, at + len(line.rstrip()))
            message = f"the quotation mark {line[open_quote]} is not closed on this line"
            findings.append(Diagnostic("quotation-mark", "error", message, (Place(span),)))
        masked.append(shown)
        at += len(line) + 1
    text = "\n".join(masked)
    return text, _joined(masked, spoiled), findings


def _without_comment(line: str) -> tuple[str, int | None]:
    """The line with its comment blank, and where a quotation mark is left open."""
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


def _joined(lines: list[str], spoiled: set[int]) -> tuple[Line, ...]:
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
    return tuple(line for number, line in enumerate(found) if number not in bad)
