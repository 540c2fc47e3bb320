"""Findings as text for a person (full, concise) or for a program (json).

Takes diagnostics and the texts of the files that they speak of; gives one string. The places
are found again by line and column, so a text that is missing costs only the excerpt.
"""

from __future__ import annotations

import json
import re
import unicodedata
from collections.abc import Iterable, Mapping
from typing import Any, Literal

from publisher.diagnostics.types import Diagnostic, Place, Span

Form = Literal["full", "concise", "json"]

TAB_WIDTH = 4
EXCERPT_WIDTH = 110
LONG_LINE = 1000
"""Past this many characters only the surroundings of a place are looked at."""
_LINE_END = re.compile(r"\r\n|\n|\r")


def render(diagnostics: Iterable[Diagnostic], sources: Mapping[str, str], form: Form) -> str:
    """All findings in reading order, each ended by a line break; "" where there are none.

    ``sources`` holds the decoded text of each shown path. ``json`` gives one array.
    """
    ordered = in_reading_order(diagnostics)
    if form == "json":
        listed = [_as_json(d) for d in ordered]
        return json.dumps(listed, ensure_ascii=False, indent=2) + "\n"
    if form == "concise":
        return "".join(_concise(d) + "\n" for d in ordered)
    lines = {name: _LINE_END.split(text) for name, text in sources.items()}
    return "\n".join(_full(d, lines) for d in ordered)


def in_reading_order(diagnostics: Iterable[Diagnostic]) -> list[Diagnostic]:
    """By file and place; findings without a place come first."""

    def key(d: Diagnostic) -> tuple[str, int, str, str]:
        if not d.places:
            return ("", -1, d.code, d.message)
        span = d.places[0].span
        return (span.file, span.start, d.code, d.message)

    return sorted(diagnostics, key=key)


# ---------------------------------------------------------------- concise


def _where(span: Span) -> str:
    return f"{span.file}:{span.line}:{span.column}"


def _concise(d: Diagnostic) -> str:
    said = f"{d.severity}[{d.code}]: {_plain(d.message)}"
    return f"{_plain(_where(d.places[0].span))}: {said}" if d.places else said


# ---------------------------------------------------------------- full


def _full(d: Diagnostic, sources: Mapping[str, list[str]]) -> str:
    lines = [f"{d.severity}[{d.code}]: {_plain(d.message)}"]
    width = max((len(str(p.span.line)) for p in d.places), default=1)
    for number, place in enumerate(d.places):
        joined = "" if number == 0 else "and "
        lines.append(f"  {joined}{_plain(_where(place.span))}")
        lines.extend(_excerpt(place, sources.get(place.span.file), max(width, 3)))
    lines.extend(f"  {_plain(note)}" for note in d.notes)
    if d.ways_out:
        lines.append("  ways out: " + ", or ".join(_plain(w.text) for w in d.ways_out))
    return "\n".join(lines) + "\n"


def _excerpt(place: Place, lines: list[str] | None, width: int) -> list[str]:
    span = place.span
    label = f" {_plain(place.label)}" if place.label else ""
    if lines is None or span.line > len(lines):
        return [f"  {label}"] if label else []
    line = lines[span.line - 1]
    start = min(span.column - 1, len(line))
    length = max(span.end - span.start, 1)
    over = start + length > len(line) + 1
    end = min(start + length, max(len(line), start + 1))
    shown, before, marked = _window(line, start, end)
    more = " and the lines after it" if over and not label else ""
    gutter = " " * (width + 2)
    return [
        f"  {span.line:>{width}} | {shown}".rstrip(),
        f"{gutter} | {' ' * before}{'^' * max(marked, 1)}{label}{more}",
    ]


def _window(line: str, start: int, end: int) -> tuple[str, int, int]:
    """The line as shown, the columns before the mark, and the columns marked."""
    cut = start > LONG_LINE
    if cut:
        line, start, end = line[start - EXCERPT_WIDTH :], EXCERPT_WIDTH, end - start + EXCERPT_WIDTH
    line = line[: start + 2 * EXCERPT_WIDTH]
    end = min(end, max(len(line), start + 1))
    cells = _cells(line)
    before = sum(w for _, w in cells[:start])
    marked = sum(w for _, w in cells[start:end])
    total = sum(w for _, w in cells)
    if total <= EXCERPT_WIDTH:
        return "".join(c for c, _ in cells), before, marked
    marked = min(marked, EXCERPT_WIDTH - 20)
    first = start
    room = 20
    while first > 0 and room - cells[first - 1][1] >= 0:
        first -= 1
        room -= cells[first][1]
    last = first
    room = EXCERPT_WIDTH - 2
    while last < len(cells) and room - cells[last][1] >= 0:
        room -= cells[last][1]
        last += 1
    head = "…" if first > 0 or cut else ""
    tail = "…" if last < len(cells) else ""
    shown = head + "".join(c for c, _ in cells[first:last]) + tail
    return shown, len(head) + sum(w for _, w in cells[first:start]), marked


def _cells(line: str) -> list[tuple[str, int]]:
    """Each character as shown and the columns it takes; tabs become spaces."""
    cells: list[tuple[str, int]] = []
    column = 0
    for ch in line:
        if ch == "\t":
            width = TAB_WIDTH - column % TAB_WIDTH
            cells.append((" " * width, width))
        else:
            width = _columns(ch)
            cells.append((_visible(ch), width))
        column += width
    return cells


def _columns(ch: str) -> int:
    if ch < "\x7f":
        return 1
    if unicodedata.category(ch) in ("Mn", "Me"):
        return 0
    # Unicode Standard Annex 11: wide and fullwidth characters take two columns.
    return 2 if unicodedata.east_asian_width(ch) in ("W", "F") else 1


def _visible(ch: str) -> str:
    # Control and direction characters would move the cursor or turn the line round.
    return "\ufffd" if unicodedata.category(ch) in ("Cc", "Cf", "Cs", "Zl", "Zp") else ch


def _plain(text: str) -> str:
    return "".join(" " if ch in "\n\r\t" else _visible(ch) for ch in text)


# ---------------------------------------------------------------- json


def _span_json(span: Span) -> dict[str, Any]:
    return {
        "file": span.file,
        "start": span.start,
        "end": span.end,
        "line": span.line,
        "column": span.column,
    }


def _as_json(d: Diagnostic) -> dict[str, Any]:
    return {
        "code": d.code,
        "severity": d.severity,
        "message": d.message,
        "places": [{**_span_json(p.span), "label": p.label} for p in d.places],
        "numbers": dict(d.numbers),
        "notes": list(d.notes),
        "ways_out": [
            {
                "text": w.text,
                "edit": None
                if w.edit is None
                else {**_span_json(w.edit.span), "text": w.edit.text},
            }
            for w in d.ways_out
        ],
    }
