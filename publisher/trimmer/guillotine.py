"""Blanks on sheets so that every cut goes from edge to edge, and the order of these cuts.

Lengths are whole marks of one ruler, so that every cut falls on a mark too. The packer is
rectpack's guillotine, in several of its rules; what is taken needs the fewest sheets and, of
those, leaves the largest rest in one piece.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import Any, TypeAlias

from msgspec import Struct
from rectpack import SORT_AREA, SORT_LSIDE, PackingBin, PackingMode, guillotine, newPacker

RULES: tuple[Any, ...] = (
    guillotine.GuillotineBssfSas,
    guillotine.GuillotineBssfLas,
    guillotine.GuillotineBssfSlas,
    guillotine.GuillotineBafLlas,
)
SORTS: tuple[Any, ...] = (SORT_AREA, SORT_LSIDE)


class Rect(Struct, frozen=True):
    """In marks; ``number`` is which blank it is, -1 for what is left over."""

    number: int
    x: int
    y: int
    width: int
    height: int


class Stroke(Struct, frozen=True):
    """A cut through the whole of ``part``, ``at`` marks from its left or top edge."""

    part: Rect
    upright: bool
    at: int


Board: TypeAlias = tuple[Rect, ...]


def boards(
    blanks: Sequence[tuple[int, int]], width: int, height: int, may_turn: bool
) -> list[Board]:
    """The blanks on as few sheets as the rules find. Each blank must fit the sheet, upright or,
    where it may be turned, across."""
    best: tuple[tuple[int, int, int], list[Board]] | None = None
    for rule in RULES:
        for sort in SORTS:
            found = _packed(blanks, width, height, may_turn, rule, sort)
            if found is None:
                continue
            rest = max((_size(r) for r in strokes_of(found[-1], width, height)[1]), default=0)
            cuts = sum(len(strokes_of(board, width, height)[0]) for board in found)
            rank = (len(found), -rest, cuts)
            if best is None or rank < best[0]:
                best = (rank, found)
    return best[1] if best else []


def _packed(
    blanks: Sequence[tuple[int, int]], width: int, height: int, may_turn: bool, rule: Any, sort: Any
) -> list[Board] | None:
    packer = newPacker(
        mode=PackingMode.Offline,
        bin_algo=PackingBin.BBF,
        pack_algo=rule,
        sort_algo=sort,
        rotation=may_turn,
    )
    packer.add_bin(width, height, count=len(blanks))
    for number, (wide, high) in enumerate(blanks):
        packer.add_rect(wide, high, rid=number)
    packer.pack()
    listed = packer.rect_list()
    if len(listed) < len(blanks):
        return None
    sheets: dict[int, list[Rect]] = {}
    for sheet, x, y, wide, high, number in listed:
        sheets.setdefault(sheet, []).append(Rect(number, x, y, wide, high))
    found = [tuple(sorted(s, key=lambda r: (r.y, r.x))) for s in sheets.values()]
    # The fullest first, so that what is left over is left on the last.
    found.sort(key=lambda board: -sum(_size(r) for r in board))
    return found


def _size(rect: Rect) -> int:
    return rect.width * rect.height


def strokes_of(board: Board, width: int, height: int) -> tuple[list[Stroke], list[Rect]]:
    """The cuts in the order of work, and what is left over.

    Where one cut frees a rest, the largest is freed first, so that it stays whole; otherwise
    a part is divided where most lies on either side. Raises ValueError for a board that no
    cuts from edge to edge can divide.
    """
    strokes: list[Stroke] = []
    left: list[Rect] = []
    parts: list[tuple[Rect, tuple[Rect, ...]]] = [(Rect(-1, 0, 0, width, height), board)]
    while parts:
        part, inside = parts.pop(0)
        if not inside:
            left.append(part)
            continue
        (only, *more) = inside
        if not more and (only.width, only.height) == (part.width, part.height):
            continue
        stroke = _best(part, inside)
        strokes.append(stroke)
        parts = [*_divided(part, inside, stroke), *parts]
    return strokes, left


def _best(part: Rect, inside: Sequence[Rect]) -> Stroke:
    tries = list(_strokes(part, inside))
    if not tries:
        raise ValueError("no cut goes from edge to edge")

    def rank(stroke: Stroke) -> tuple[int, int, int]:
        sides = _divided(part, inside, stroke)
        free = max((_size(p) for p, rects in sides if not rects), default=0)
        least = min(sum(_size(r) for r in rects) for _, rects in sides)
        return (-free, -least, stroke.at)

    return min(tries, key=rank)


def _strokes(part: Rect, inside: Sequence[Rect]) -> Iterator[Stroke]:
    for upright in (True, False):
        size = part.width if upright else part.height
        ends = {at for r in inside for at in _span(r, part, upright)}
        for at in sorted(ends):
            if 0 < at < size and not any(
                low < at < high for low, high in (_span(r, part, upright) for r in inside)
            ):
                yield Stroke(part, upright, at)


def _span(rect: Rect, part: Rect, upright: bool) -> tuple[int, int]:
    start = rect.x - part.x if upright else rect.y - part.y
    return start, start + (rect.width if upright else rect.height)


def _divided(
    part: Rect, inside: Iterable[Rect], stroke: Stroke
) -> list[tuple[Rect, tuple[Rect, ...]]]:
    at = stroke.at
    if stroke.upright:
        first = Rect(-1, part.x, part.y, at, part.height)
        second = Rect(-1, part.x + at, part.y, part.width - at, part.height)
    else:
        first = Rect(-1, part.x, part.y, part.width, at)
        second = Rect(-1, part.x, part.y + at, part.width, part.height - at)
    rects = tuple(inside)
    near = tuple(r for r in rects if _span(r, part, stroke.upright)[1] <= at)
    return [(first, near), (second, tuple(r for r in rects if r not in near))]
