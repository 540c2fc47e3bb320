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
from publisher.language.parser import Token, Unexpected
from publisher.language.statements import Where
from publisher.language.words import Mode
from publisher.source import MappedText, SourceText

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
    for turn in _TURNS:
        found = turn.pattern.search(text) if mode in turn.modes else None
        if found is None:
            continue
        words = {name: " ".join(said.split()) for name, said in found.groupdict("").items()}
        words["unit"] = words.get("unit") or "mm"
        start, end = found.span("said")
        shown = text[start:end].strip()
        at = text.index(shown, start) if shown else end
        place = spans(at, at + len(shown or words.get("word", " ")))
        ways: tuple[WayOut, ...] = ()
        if turn.mended is not None:
            new = turn.mended.format(**words)
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
    if said == ",":
        return f"put a comma in place of ‘{old}’" if old else "put a comma there"
    return f"write ‘{said}’" if said else f"leave out ‘{old}’"


_MUCH = r"(?P<much>(?:\d+\s+)?\d[\d./]*\s*[½⅓⅔¼¾⅛⅜⅝⅞]?\s*(?:mm|cm|in|pt))"
_ALONE = r"(?=\s*(?:,|\bby\b|$))"
_SHAPE = r"(?P<shape>rectangle|circle|ellipse|ring|polygon|star|half round|square|vee)"
_LABEL = r"(?P<label>across|wide|high|deep|long|side|radius)"


_STEP = (
    (
        r"^turn\s+(?P<said>(?:the\s+)?(?!over\b)(?P<what>[^,\"#]+?)\s+over)\s*$",
        "the way stands first: ‘turn over {what}’",
        "over {what}",
    ),
    (
        r"^(?:fold|crease|open|close|press)\s+(?P<said>(?P<way>up|down|over|in|out|inwards?|outwards?"
        r"|together|forwards?|backwards?)\s+)(?!half\b)(?=\w)",
        "‘{way}’ is not said: the score says which way it goes",
        "",
    ),
    (
        r"^(?:fold|crease|press)\s[^,\"#]*?\w(?P<said>\s+in\s+half)\b",
        "say which panel moves: the one on this or that side of the fold",
        None,
    ),
    (
        rf"^(?:fold|crease|press)\s[^,\"#]*?\w(?P<said>\s+(?P<way>over|under|in|inwards?|outwards?)){_ALONE}",
        "‘{way}’ is not said: the score says which way it goes",
        "",
    ),
    (
        rf"^fold\s[^,\"#]*?\w(?P<said>\s+(?P<way>over|onto|on|against|to|behind|under)\s+[^,\"#]+?){_ALONE}",
        "a ‘fold’ line says only what moves: where it comes to lie, its score says",
        "",
    ),
    (
        r"^(?:hold|dry|press)\s[^\"#]*?\w(?P<said>\s+for\s+(?:about\s+)?)(?=[\d½¼¾⅓])",
        "how long it takes stands behind a comma, without ‘for’",
        ", ",
    ),
    (
        r"^(?!mount\b)\w+\s[^\"#]*?\w(?P<said>,?\s+(?:with|using)\s+(?P<what>[^,\"#]+?))\s*$",
        'what it is done with stands in quotation marks at the end: "{what}"',
        ' "{what}"',
    ),
    (r"\b(?P<said>on\s+to)\b(?!\s*\d)", "write it as ‘on’", "on"),
    (r"(?<!\d )\b(?P<said>in\s+to)\b(?!\s*\d)", "write it as one word: ‘into’", "into"),
)

_PIECE = (
    (
        r"^(?P<said>(?P<count>\d+)\s+(?P<head>window|notch|slit|join|cut|draw)(?:e?s)?\b,?\s*"
        r"(?P<rest>[^\"#]*?))\s*$",
        "a line begins with what is made; how often stands behind it: ‘{count} times’",
        "{head} {rest}, {count} times",
    ),
    (
        r"\b(?P<said>evenly\s+(?:spaced|apart|distributed|spread|placed))\b",
        "‘evenly’ is enough",
        "evenly",
    ),
    (
        r"\b(?P<said>(?:in\s+(?:the\s+)?(?:very\s+)?(?:middle|cent(?:re|er))"
        r"|at\s+(?:the\s+)?cent(?:re|er)))\b",
        "that place is called ‘at middle’",
        "at middle",
    ),
    (
        r"(?P<said>(?P<much>\d[\d./ ]*\s*(?:mm|cm|pt))\s+from\s+(?:the\s+)?"
        r"(?P<side>top|bottom|left|right))\b(?!\s+to\b)",
        "so far from an edge is ‘{much} in from {side}’",
        "{much} in from {side}",
    ),
    (r"\b(?P<said>in\s+a\s+(?:row|line))\b", "a row goes ‘across’ or ‘down’", "across"),
    (
        r"\b(?P<said>aligned\s+(?:to|on|at|along|by))\b",
        "things are ‘aligned with’ one another",
        "aligned with",
    ),
    (
        rf"^\w+\s+(?P<said>{_SHAPE}\s+(?P<name>[a-z][\w ]*?)\s+{_LABEL}"
        r"\s+(?P<much>\d[\d./]*)(?:\s*(?P<unit>mm|cm|in|pt))?)\b",
        "all that is said of it stands between commas: a measure, with its unit, before its word, "
        "a name behind ‘called’",
        "{shape}, {much} {unit} {label}, called {name}",
    ),
    (
        rf"(?P<said>\b{_LABEL}\s+(?:of\s+)?{_MUCH})",
        "a measure stands before its word: ‘{much} {label}’",
        "{much} {label}",
    ),
    (
        r"(?P<said>(?P<one>\d[\d./]*(?:\s*(?:mm|cm|in|pt))?)\s+by\s+(?P<other>\d[\d./]*\s*(?:mm|cm|in|pt)))\b",
        "the parts of a size are joined by x",
        "{one} x {other}",
    ),
)

_HEADER = (
    (
        r"^[^,]*[^,\d\s](?P<said>\s+in\s+)(?=\w)",
        "put a comma before the paper",
        ", in ",
    ),
    (
        r"(?P<said>,?\s+(?:cut\s+)?(?:from|out\s+of|of|on)\s+)(?=[a-z])",
        "the paper stands behind ‘in’",
        ", in ",
    ),
)

_SIZES = (
    (
        r"(?<=\s)(?P<said>\(\s*(?P<what>[a-z][^()\"#]*?)\s*\))\s*$",
        "what is printed beside a size stands in quotation marks",
        '"{what}"',
    ),
    (r"^[^=,:\"#]+?(?P<said>\s+(?:is|are))\s", "a size has an equals sign", " ="),
    (
        r"=[^,\"#]*?[^,\s](?P<said>\s+)(?P<word>from|or|else)\b",
        "put a comma before ‘{word}’",
        ", ",
    ),
)

_FITS = (
    (
        r"\b(?P<said>(?:(?:fits?|sits?|slips?|slides?|slots?)\s+(?:into|in)"
        r"|(?:fits?|sits?|slips?|slides?|goes)\s+(?:inside|within)))\b",
        "what is put into something ‘goes into’ it",
        "goes into",
    ),
    (
        r"\b(?P<said>(?:fits?|slips?|slides?|goes)\s+(?:over|on|onto|around|round))\b",
        "what is put over something ‘slides on’ it",
        "slides on",
    ),
    (
        r"\b(?P<said>lines\s+up\s+with|(?:is|lies)\s+(?:level|flush|in\s+line)\s+with)\b",
        "edges in one line are said to lie flush",
        "lies flush with",
    ),
    (
        r"\b(?P<said>(?:is|lies)\s+(?:inside|within))\b",
        "write it as ‘stays inside’",
        "stays inside",
    ),
    (r"\b(?P<said>hides)\b", "what hides another thing ‘covers’ it", "covers"),
    (
        r"\b(?P<said>folds\s+to|measures|closes\s+at)\b",
        "how large it is when closed is what it ‘closes to’",
        "closes to",
    ),
    (
        rf"\b(?P<said>by\s+{_MUCH})\s*$",
        "how much room there must be is said ‘with at least {much} to spare’",
        "with at least {much} to spare",
    ),
    (
        r"\bholds\s+(?P<said>(?P<count>\d+)\s+(?P<what>[a-z][\w ]*?))\s*(?=\bwith\b|,|$)",
        "what it holds is one thing: give {count} {what} together a size with a name of its own",
        None,
    ),
)

_NOTE = (
    (
        r"(?P<said>,)\s*[\"“][^\"”]*[\"”]\s*$",
        "no comma before what stands in quotation marks",
        "",
    ),
)

_BY_MODE: tuple[tuple[tuple[Mode, ...], tuple[tuple[str, str, str | None], ...]], ...] = (
    (("step",), _STEP),
    (("piece",), _PIECE),
    (("header",), _HEADER),
    (("sizes",), _SIZES),
    (("fits",), _FITS),
    (("sizes", "piece", "step", "fits"), _NOTE),
)
_TURNS = tuple(
    Turn(modes, re.compile(pattern, re.IGNORECASE), message, mended)
    for modes, turns in _BY_MODE
    for pattern, message, mended in turns
)
