"""What is left of a sheet in rectangles, and what they are large enough for."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from publisher.geometry.measure import Bounds
from publisher.layout import Sheet, placed_bounds
from publisher.model.types import Pattern, Piece
from publisher.supplies.types import Offcut
from publisher.trade import CommonObject, Trade

LEAST_MM = 25.0
"""A narrower rest is waste."""
MOST_BOXES = 24
"""A sheet with more on it has no rest worth keeping, and takes long to search."""
EACH = 2
FLAT_MM = 1.0
"""A thing of paper is no thicker."""


def offcuts(pattern: Pattern, sheets: Iterable[Sheet], trade: Trade) -> tuple[Offcut, ...]:
    """At most ``EACH`` rests of a sheet, the largest first, those that are good for something."""
    found = []
    for sheet in sheets:
        taken = [placed_bounds(pattern.piece(p.piece), p) for p in sheet.placed]
        if len(taken) > MOST_BOXES:
            continue
        whole = (0.0, 0.0, sheet.size.width_mm, sheet.size.height_mm)
        for _ in range(EACH):
            rest = largest_rest(whole, taken)
            wide, high = rest[2] - rest[0], rest[3] - rest[1]
            if min(wide, high) < LEAST_MM:
                break
            own = [p for p in pattern.pieces if p.stock.name == sheet.stock.name]
            pieces = tuple(p.name for p in own if _holds_piece(wide, high, p))
            thing = _thing(wide, high, trade.objects.values())
            if pieces or thing:
                found.append(Offcut(sheet.name, sheet.stock.name, wide, high, pieces, thing))
            taken.append(rest)
    return tuple(found)


def largest_rest(whole: Bounds, taken: Sequence[Bounds]) -> Bounds:
    """The largest rectangle within ``whole`` that meets none of ``taken``.

    Its sides lie on sides of these boxes or of the whole; every pair of left and right sides is
    tried with the highest gap between the boxes in that strip.
    """
    xs = sorted({whole[0], whole[2], *(x for b in taken for x in (b[0], b[2]))})
    best, most = (whole[0], whole[1], whole[0], whole[1]), 0.0
    for index, left in enumerate(xs):
        for right in xs[index + 1 :]:
            if left < whole[0] or right > whole[2]:
                continue
            inside = sorted((b[1], b[3]) for b in taken if b[0] < right and b[2] > left)
            ends = [whole[1]]
            starts = []
            for top, bottom in inside:
                starts.append(top)
                ends.append(max(ends[-1], bottom))
            starts.append(whole[3])
            for end, start in zip(ends, starts, strict=True):
                size = (right - left) * (start - end)
                if start > end and size > most + 1e-6:
                    best, most = (left, end, right, start), size
    return best


def _holds_piece(wide: float, high: float, piece: Piece) -> bool:
    x_min, y_min, x_max, y_max = piece.bounds
    return _fits(x_max - x_min, y_max - y_min, wide, high, turned=not piece.stock.patterned)


def _thing(wide: float, high: float, objects: Iterable[CommonObject]) -> str:
    """The largest common flat thing that it makes."""
    able = [
        o
        for o in objects
        if o.depth_mm <= FLAT_MM
        and "envelope" not in o.name
        and _fits(o.width_mm, o.height_mm, wide, high, turned=True)
    ]
    best = max(able, key=lambda o: (o.width_mm * o.height_mm, o.name), default=None)
    return best.title if best else ""


def _fits(across: float, down: float, wide: float, high: float, turned: bool) -> bool:
    upright = across <= wide and down <= high
    return upright or (turned and down <= wide and across <= high)
