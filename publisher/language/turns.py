"""Turns of speech of makers: how a line is said at the cutting table, and how it is written here.

Loaded only where a line cannot be read or its words are not known; then the line's own text is
looked at, and what is meant is said in place of what the grammar missed.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence

from msgspec import Struct

from publisher.diagnostics import Diagnostic, Edit, Place, Span, WayOut
from publisher.language.explain import explain
from publisher.language.lines import Line
from publisher.language.meant import MEANT
from publisher.language.parser import Token, Unexpected
from publisher.language.sayings import SAYINGS
from publisher.language.statements import Where
from publisher.language.words import Mode
from publisher.source import MappedText, SourceText

LONGEST = 400
"""Letters of a line: nobody says a longer one in one breath, and looking for sayings takes time
that grows with more than its length."""

_QUOTED = re.compile(r'"[^"]*"|“[^”"]*[”"]|„[^“]*“')
"""What stands in quotation marks is the author's own and is not looked at."""

Spans = Callable[[int, int], Span]
"""Where a stretch of the line stands in the file."""


class Turn(Struct, frozen=True):
    """``pattern`` finds it in a line and holds the group ``said``, which ``mended`` takes the
    place of (None: no words can be given). Both texts may name the pattern's groups."""

    modes: tuple[Mode, ...]
    pattern: re.Pattern[str]
    message: str
    mended: str | None


def turn_of_speech(mode: Mode, text: str, spans: Spans) -> Diagnostic | None:
    """What a line means that could not be read; None where it is no known turn of speech.
    ``text`` is the line, ``spans`` gives the place of a stretch of it."""
    if len(text) > LONGEST:
        return None
    bare = _QUOTED.sub(lambda said: f'"{"·" * (len(said.group()) - 2)}"', text)
    for turn in _TURNS:
        found = turn.pattern.search(bare) if mode in turn.modes else None
        if found is None:
            continue
        groups = {name: text[slice(*found.span(name))] for name in found.groupdict()}
        words = {name: " ".join(said.split()) for name, said in groups.items()}
        words["label"] = MEANT.get(words.get("label", ""), words.get("label", ""))
        words["unit"] = words.get("unit") or "mm"
        start, end = found.span("said")
        shown = text[start:end].strip()
        new = None if turn.mended is None else turn.mended.format(**words)
        if new is not None and new.casefold().split() == shown.casefold().split():
            continue  # it is said as it is written
        at = text.index(shown, start) if shown else end
        word = re.compile(r"[\w’'-]*").match(text, end)  # what stands behind a place for a comma
        place = spans(at, at + len(shown or (word.group() if word else "") or " "))
        ways: tuple[WayOut, ...] = ()
        if new is not None:
            ways = (WayOut(_way(shown, new), Edit(spans(start, end), new)),)
        message = turn.message.format(**words)
        return Diagnostic("syntax", "error", message, (Place(place),), ways_out=ways)
    return None


def refused(
    body: MappedText,
    text: str,
    line: Line,
    tokens: Sequence[Token],
    fault: Unexpected,
    mode: Mode,
) -> Diagnostic:
    """What is told of a line that leaves the grammar."""

    def spans(start: int, end: int) -> Span:
        return body.span(line.start + start, line.start + end)

    meant = turn_of_speech(mode, text[line.start : line.end], spans)
    return meant or explain(body, text, line, tokens, fault, mode)


def as_meant(
    where: Where, source: SourceText, line: Span, findings: list[Diagnostic], told: int
) -> None:
    """In place of what was found in a line since ``told``: what is meant, where the line is a
    known turn of speech."""

    def spans(start: int, end: int) -> Span:
        return source.span(line.start + start, line.start + end)

    meant = turn_of_speech(where, source.text[line.start : line.end], spans)
    if meant is not None:
        findings[told:] = [meant]


def _way(shown: str, new: str) -> str:
    said, old = " ".join(new.split()), " ".join(shown.split())
    if said == ":":
        return "put a colon there"
    if said == ",":
        return f"put a comma in place of ‘{old}’" if old else "put a comma there"
    return f"write ‘{said}’" if said else f"leave out ‘{old}’"


_TURNS = tuple(
    Turn(modes, re.compile(pattern, re.IGNORECASE), message, mended)
    for modes, turns in SAYINGS
    for pattern, message, mended in turns
)
