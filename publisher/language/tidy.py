"""Fences in one way of writing: words, comments and prose stay, white space is set.

No line is broken or joined, so that a comment stays where it was. A fence with a line that cannot
be read is left as it is, and so is one whose words would not be the same afterwards.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from typing import Literal, TypeAlias

from msgspec import Struct
from msgspec.structs import replace

from publisher.language.lexer import lex
from publisher.language.lines import OPENING_QUOTES, Line, read_lines
from publisher.language.parser import Unexpected, parse_line
from publisher.source import Document, MappedText
from publisher.source.text import SourceText, plain_mapping
from publisher.source.types import Block, Fence, ItemList, Quote

Kind: TypeAlias = Literal["sizes", "piece", "step", "fits"]
KINDS: tuple[Kind, ...] = ("sizes", "piece", "step", "fits")
HEAD_COLUMN = 9
"""Where a line goes on after its first word; a longer first word pushes all of its fence."""
NOTE_COLUMN = 50
"""A longer line does not move the notes of the others out; its own follows it at once."""
_SPACES = ((r"\s+", " "), (r" ?, ?", ", "), (r" ?: ?", ": "), (r" ?= ?", " = "))
_BRACKETS = ((r"\( ", "("), (r" \)", ")"))


class Row(Struct, frozen=True):
    """One line of a fence: its words, the printed note and the comment after them."""

    role: Literal["first", "more", "alone", "blank"]
    code: str
    note: str
    comment: str


def tidied(document: Document) -> str:
    """The whole text of a document with its fences set."""
    source = document.source
    edits = [e for fence in _fences(document.blocks) for e in _edits(fence)]
    parts: list[str] = []
    at = 0
    for start, end, text in sorted(edits):
        parts += (source.text[at:start], text)
        at = end
    return "".join((*parts, source.text[at:]))


def _fences(blocks: Iterable[Block]) -> Iterator[Fence]:
    for block in blocks:
        match block:
            case Fence():
                yield block
            case Quote():
                yield from _fences(block.blocks)
            case ItemList():
                for item in block.items:
                    yield from _fences(item.blocks)
            case _:
                pass


def _edits(fence: Fence) -> Iterator[tuple[int, int, str]]:
    """Stretches of the source and what stands there afterwards."""
    kind = next((k for k in KINDS if k == fence.kind), None)
    if kind is None:
        return
    before = fence.body.text.split("\n")
    after = tidy_lines(fence.body, kind)
    at = 0
    for old, new in zip(before, after, strict=True):
        if old != new and old:
            start = fence.body.offsets[at]
            yield start, fence.body.offsets[at + len(old) - 1] + 1, new
        at += len(old) + 1


def tidy_lines(body: MappedText, kind: Kind) -> list[str]:
    """The lines of a fence as they should stand, as many as there were."""
    said = _words(body, kind)
    lines = body.text.split("\n")
    if said is None:
        return lines
    laid = _laid(_rows(body), kind)
    text = "\n".join(laid)
    same = _words(plain_mapping(SourceText.of(text, ""), 0, len(text)), kind)
    return laid if same == said else lines


def _words(body: MappedText, kind: Kind) -> list[tuple[str, str]] | None:
    """Every terminal of the fence; None where a line cannot be read."""
    text, lines, _, findings = read_lines(body)
    if findings:
        return None
    words: list[tuple[str, str]] = []
    for line in lines:
        lexed = lex(body, text, line, kind)
        if lexed.findings or not lexed.whole:
            return None
        rule = {"fits": "claim", "sizes": "size"}.get(kind, "statement")
        if lexed.tokens and lexed.tokens[0].kind == "VARIANT":
            rule = "variant"
        if isinstance(parse_line(rule, lexed.tokens), Unexpected):
            return None
        words += [(t.kind, " ".join(t.text.split())) for t in lexed.tokens]
        words.append(("END", ""))
    return words


# ---------------------------------------------------------------- rows


def _rows(body: MappedText) -> list[Row]:
    _, lines, _, _ = read_lines(body)
    rows: list[Row] = []
    at = 0
    for text in body.text.split("\n"):
        code, note, comment = _parts(text)
        role: Literal["first", "more", "alone", "blank"] = "blank"
        if code or note:
            role = "first" if _begins(lines, at, text) else "more"
        elif comment:
            role = "alone"
        rows.append(Row(role, code, note, comment))
        at += len(text) + 1
    for index, row in enumerate(rows):
        following = next((r.role for r in rows[index + 1 :] if r.role in ("first", "more")), "")
        if row.role == "alone" and following == "more":
            rows[index] = replace(row, role="more")
    return rows


def _begins(lines: Sequence[Line], at: int, text: str) -> bool:
    start = at + len(text) - len(text.lstrip())
    return any(line.start == start for line in lines)


def _parts(text: str) -> tuple[str, str, str]:
    """Words, printed note and comment of one line. A note stands last; other quotations, such as
    after ‘saying’, are among the words."""
    pieces: list[tuple[bool, str]] = []
    at = 0
    comment = ""
    plain = ""
    while at < len(text):
        char = text[at]
        if char == "#":
            comment = text[at:].rstrip()
            break
        if char in OPENING_QUOTES:
            ends = [text.find(c, at + 1) for c in {OPENING_QUOTES[char], '"'}]
            end = min((e for e in ends if e >= 0), default=len(text) - 1) + 1
            pieces += ((False, _set(plain)), (True, text[at:end]))
            plain, at = "", end
            continue
        plain += char
        at += 1
    pieces.append((False, _set(plain)))
    words = [(quoted, said) for quoted, said in pieces if said]
    note = words.pop()[1] if words and words[-1][0] else ""
    if note and words and words[-1][1].endswith(("saying", "from file")):
        words.append((True, note))
        note = ""
    code = " ".join(said for _, said in words).replace(" ,", ",")
    return code, note, comment


def _set(text: str) -> str:
    for pattern, told in (*_SPACES, *_BRACKETS):
        text = re.sub(pattern, told, text)
    return text.strip()


# ---------------------------------------------------------------- layout


def _laid(rows: Sequence[Row], kind: Kind) -> list[str]:
    codes = _named(rows) if kind == "sizes" else _headed(rows, kind)
    wide = [
        len(code)
        for code, row in zip(codes, rows, strict=True)
        if row.note and row.code and len(code) <= NOTE_COLUMN
    ]
    column = max(wide, default=0)
    laid: list[str] = []
    for code, row in zip(codes, rows, strict=True):
        line = code
        if row.note:
            gap = 2
            if kind == "sizes" and row.code:
                gap = max(column - len(code), 0) + 2
            line = f"{code}{' ' * gap}{row.note}" if row.code else f"{code}{row.note}"
        if row.comment:
            line = f"{line}  {row.comment}" if row.code or row.note else f"{code}{row.comment}"
        laid.append(line.rstrip())
    return laid


def _headed(rows: Sequence[Row], kind: Kind) -> list[str]:
    """Lines of a piece or a step go on in one column after their first words."""
    if kind == "fits":
        return [("    " if r.role == "more" else "") + r.code for r in rows]
    heads = [r.code.split(" ", 1)[0] for r in rows if r.role == "first"]
    column = max([HEAD_COLUMN, *(len(h) + 1 for h in heads)])
    laid: list[str] = []
    for row in rows:
        head, _, rest = row.code.partition(" ")
        is_first = row.role == "first" and bool(rest)
        indent = " " * column if row.role == "more" else ""
        laid.append(head.ljust(column) + rest if is_first else indent + row.code)
    return laid


def _named(rows: Sequence[Row]) -> list[str]:
    """Sizes that stand together have their equals signs under each other."""
    laid: list[str] = []
    group: list[Row] = []
    for row in (*rows, None):
        if row is not None and row.role != "blank":
            group.append(row)
            continue
        names = [r.code.split(" = ", 1)[0] for r in group if _is_size(r)]
        column = max((len(n) for n in names), default=0)
        for one in group:
            name, _, value = one.code.partition(" = ")
            indent = " " * (column + 3) if one.role == "more" else ""
            laid.append(
                f"{name.ljust(column)} = {value}" if _is_size(one) else f"{indent}{one.code}"
            )
        group = []
        if row is not None:
            laid.append("")
    return laid


def _is_size(row: Row) -> bool:
    """A size on a line of its own; not a variant."""
    is_variant = row.code[:8].lower() == "variant " and ":" in row.code
    return row.role == "first" and " = " in row.code and not is_variant
