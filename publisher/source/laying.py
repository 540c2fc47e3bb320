"""Cut-out text laid against the source, so that every character knows its offset.

What markdown-it-py hands out has lost its indentation, its quote marks and some of its tabs,
but each of its lines is still the end of a line of the source.
"""

from __future__ import annotations

import re
from itertools import pairwise

from markdown_it.common.utils import MD_TRIM_CHARS

from publisher.source.text import MappedText, SourceText

_ENDING_PIPES = re.compile(r"(?<!\\)\|")


def lay_lines(source: SourceText, lines: list[str], first: int, *, closed: bool) -> MappedText:
    """Lay each line against the end of its source line; ``closed`` ends it with a break."""
    parts: list[str] = []
    offsets: list[int] = []
    at = source.line_starts[first] if first < len(source.line_starts) else None
    end = len(source.text) if at is None else at
    for number, line in enumerate(lines):
        start, end = (
            source.line_starts[first + number],
            source.line_ends[first + number],
        )
        offsets.extend(_laid_line(line, source.text[start:end], start))
        parts.append(line)
        if closed or number < len(lines) - 1:
            parts.append("\n")
            offsets.append(end)
    last = offsets[-1] + 1 if offsets and not closed else end
    offsets.append(min(last, len(source.text)))
    return MappedText("".join(parts), tuple(offsets), source)


def heading_text(source: SourceText, begin: int, end: int) -> MappedText:
    """``## Title ##``: what stands between the marks."""
    line = source.text[begin:end]
    inside = line.lstrip("#")
    begin += len(line) - len(inside)
    inside = inside.rstrip(" \t")
    without = inside.rstrip("#")
    if without == "" or without[-1] in " \t":
        inside = without
    start = len(inside) - len(inside.lstrip(MD_TRIM_CHARS))
    stop = max(len(inside.rstrip(MD_TRIM_CHARS)), start)
    offsets = tuple(range(begin + start, begin + stop + 1))
    return MappedText(shown(inside[start:stop]), offsets, source)


def cell_texts(source: SourceText, begin: int, end: int) -> list[MappedText]:
    """The cells of a table's row, ``\\|`` read as ``|``."""
    line = source.text[begin:end].rstrip(MD_TRIM_CHARS)
    cells: list[MappedText] = []
    bounds = [-1, *(m.start() for m in _ENDING_PIPES.finditer(line)), len(line)]
    for left, right in pairwise(bounds):
        chars = [
            (line[i], begin + i)
            for i in range(left + 1, right)
            if not (line[i] == "\\" and line[i + 1 : i + 2] == "|")
        ]
        text = shown("".join(c for c, _ in chars))
        offsets = (*(at for _, at in chars), begin + right)
        cells.append(MappedText(text, offsets, source).trimmed())
    if cells and line.startswith("|"):
        cells.pop(0)
    if cells and bounds[-2] == len(line) - 1:
        cells.pop()
    return cells


def _laid_line(line: str, whole: str, start: int) -> list[int]:
    """The offset of each character of ``line``, which is the end of ``whole``.

    The end may have been trimmed, and white space at the beginning may have been made from
    part of a tab: such spaces all get the place of the first character that is really there.
    """
    solid = line.lstrip(" \t")
    trimmed = shown(whole)
    if not trimmed.endswith(solid):
        trimmed = trimmed.rstrip(MD_TRIM_CHARS)
    body = start + len(trimmed) - len(solid)
    lead = len(line) - len(solid)
    return [max(body - lead + i, start) for i in range(lead)] + [
        body + i for i in range(len(solid))
    ]


def shown(text: str) -> str:
    """Markdown shows a null character as the sign for what cannot be shown."""
    return text.replace("\0", "\ufffd")
