"""Reads a PDF as strictly as its standard is written: readers put up with much, each in its own
way, and what one of them mends another shows otherwise.

The page's drawing must be made of whole numbers, names and texts, each operator with as many
as it takes (ISO 32000-2, annex A and 7.3); every object must stand where the cross-reference
table says, and a stream must be as long as it says (7.5.4, 7.3.8).
"""

from __future__ import annotations

import re
from collections.abc import Iterator

_WORD = re.compile(
    rb"(?P<number>[-+]?(?:\d+\.?\d*|\.\d+)(?![^\s\[\]<>()/]))"
    rb"|(?P<name>/[A-Za-z0-9_.#-]+(?![^\s\[\]<>()/]))"
    rb"|(?P<text>\((?:[^()\\]|\\.)*\)|<[0-9A-Fa-f]*>)"
    rb"|(?P<open>\[|<<)|(?P<close>\]|>>)"
    rb"|(?P<operator>[A-Za-z*]+(?![^\s\[\]<>()/]))"
)
TAKES = {
    **dict.fromkeys(("h", "S", "s", "q", "Q", "EMC"), 0),
    **dict.fromkeys(("w", "J", "j", "gs", "CS", "cs", "SCN", "scn"), 1),
    **dict.fromkeys(("m", "l", "d", "BDC"), 2),
    "c": 6,
}
"""How many operands each operator of a sheet of lines takes."""
_STREAM = re.compile(rb"/Length (\d+)[^>]*>>\s*stream\r?\n")
_OBJECT = re.compile(rb"\d+ 0 obj(.*?)(?:endobj|stream\r?\n)", re.DOTALL)
_PAIRS = {b"]": b"[", b">>": b"<<"}
_XREF = re.compile(rb"xref\r?\n0 (\d+)\r?\n((?:\d{10} \d{5} [fn] ?\r?\n)+)")


def faults(data: bytes) -> Iterator[str]:
    """Sentences on what is not as the standard has it, in a file with one stream of lines."""
    stream = _STREAM.search(data)
    if stream is None:
        yield "the page's drawing says not how long it is"
        return
    end = stream.end() + int(stream.group(1))
    if not re.match(rb"\r?\n?endstream", data[end : end + 11]):
        yield "the page's drawing is not as long as it says"
        return
    yield from _in_drawing(data[stream.end() : end])
    yield from _in_objects(data)
    yield from _in_table(data)


def _in_drawing(drawing: bytes) -> Iterator[str]:
    at, operands, depth = 0, 0, 0
    while at < len(drawing):
        if drawing[at : at + 1].isspace():
            at += 1
            continue
        word = _WORD.match(drawing, at)
        if word is None:
            near = drawing[at : at + 12].decode("latin-1").split()[0]
            yield f"‘{near}’ in the page's drawing is no number, name or operator"
            return
        at = word.end()
        if word.lastgroup == "close":
            depth -= 1
            operands += depth == 0
        elif word.lastgroup == "open":
            depth += 1
        elif word.lastgroup != "operator":
            operands += depth == 0
        else:
            name = word.group().decode("latin-1")
            if depth or TAKES.get(name) != operands:
                yield f"‘{name}’ in the page's drawing has {operands} operands"
                return
            operands = 0
    if operands or depth:
        yield "the page's drawing breaks off"


def _in_objects(data: bytes) -> Iterator[str]:
    """Every object's words, and that each bracket is closed by its own."""
    for number, found in enumerate(_OBJECT.findall(data), 1):
        at, opened = 0, []
        while at < len(found):
            if found[at : at + 1].isspace():
                at += 1
                continue
            word = _WORD.match(found, at)
            if word is None:
                break
            at = word.end()
            if word.lastgroup == "open":
                opened.append(word.group())
            elif word.lastgroup == "close" and (not opened or opened.pop() != _PAIRS[word.group()]):
                break
        if opened or at < len(found):
            yield f"object {number} cannot be read to its end"


def _in_table(data: bytes) -> Iterator[str]:
    """One table, as the project's own sheets have it."""
    table = _XREF.search(data)
    ending = re.search(rb"startxref\r?\n(\d+)\r?\n%%EOF\s*$", data)
    if table is None or ending is None or int(ending.group(1)) != table.start():
        yield "the cross-reference table is not where it is said to be"
        return
    rows = table.group(2).split(b"\n")[:-1]
    if len(rows) != int(table.group(1)):
        yield f"the cross-reference table has {len(rows)} rows"
    for number, row in enumerate(rows):
        offset = int(row[:10])
        head = b"%d 0 obj" % number
        wrong = data[offset : offset + len(head)] != head or row[11:18] != b"00000 n"
        if number and wrong:
            yield f"object {number} is not where the cross-reference table says"
