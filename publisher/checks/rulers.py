"""A maker with a ruler: every piece as it comes out of its printed, rounded figures.

Panels are set out one from the other, as a ruler is laid: from the edge that is there already,
as far as the figure says. The fits are then measured on what has come of it. Where a rounding
breaks one, other marks for the same lengths are looked for with which all hold, and these are
what is printed. A length has one figure wherever it is printed: panels alike stay alike.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Callable, Iterable, Mapping
from typing import TypeAlias

from msgspec import Struct

from publisher.checks.context import Context
from publisher.checks.making import reshaped, with_pieces
from publisher.checks.prisms import plate
from publisher.checks.rules import score_spacing, spines
from publisher.checks.tolerances import STAND_ALONE
from publisher.checks.types import CheckResult
from publisher.geometry.path import Point
from publisher.model.types import Panel, Piece
from publisher.units import FirstUnit, Ruler, as_printed_mm, kind_for

RULES = (*STAND_ALONE, spines, score_spacing)
"""What a rounding may break, as far as it is measured on the pieces alone."""
CODES = tuple(rule.CODE for rule in RULES)
SAME_POINT_MM = 1e-3
Chosen: TypeAlias = tuple[tuple[FirstUnit, float, float], ...]
"""As ``Ruler.chosen``."""
Holding: TypeAlias = frozenset[tuple[str, str]]
"""Code and subject of each check that the design passes."""
Printed: TypeAlias = Mapping[float, float]
"""What is printed for a length, both in mm, the length rounded by ``same``."""


def same(mm: float) -> float:
    """Lengths that are one to a reader."""
    return round(mm, 3)


class Dimension(Struct, frozen=True):
    """A panel's measure along one axis (0 across, 1 down)."""

    piece: str
    panel: str
    axis: int

    @property
    def said(self) -> str:
        whose = self.piece if self.panel == self.piece else f"{self.panel} of {self.piece}"
        return f"{whose} {('wide', 'high')[self.axis]}"


def dimensions(pieces: Iterable[Piece]) -> dict[float, list[Dimension]]:
    """Every length that is a panel's, mm as designed, and whose it is."""
    found: dict[float, list[Dimension]] = {}
    for piece in pieces:
        for panel in piece.panels:
            for axis, mm in enumerate((panel.width_mm, panel.height_mm)):
                if mm > SAME_POINT_MM:
                    own = Dimension(piece.name, panel.name, axis)
                    found.setdefault(same(mm), []).append(own)
    return found


def printed(pieces: Iterable[Piece], unit: FirstUnit, chosen: Chosen = ()) -> dict[float, float]:
    """The lengths as the booklet prints them."""
    ruler = Ruler(unit, chosen)
    figures = {}
    for mm in dimensions(pieces):
        kind = kind_for(mm)
        other = ruler.on_mark_mm(mm, unit) if kind == "ruled" else None
        figures[mm] = as_printed_mm(mm, kind=kind, unit=unit) if other is None else other
    return figures


def as_ruled(piece: Piece, figures: Printed) -> Piece:
    """The piece as these figures make it."""
    if not any(abs(figures.get(mm, mm) - mm) > SAME_POINT_MM for mm in dimensions((piece,))):
        return piece
    plain = plate(piece)
    if plain is not None and plain.sides != 4:
        # A polygon with equal sides stays one: it is drawn by its measure from side to side.
        mm = plain.across_mm
        share = figures.get(same(mm), mm) / mm
        return reshaped(piece, lambda p: (p[0] * share, p[1] * share))
    axes = tuple(_stretched(_set_out(piece, figures, axis)) for axis in (0, 1))

    def move(p: Point) -> Point:
        return axes[0](p[0]), axes[1](p[1])

    return reshaped(piece, move)


def _set_out(piece: Piece, figures: Printed, axis: int) -> dict[float, float]:
    """Where the edges of panels come to lie along an axis, by where they are drawn."""
    first = piece.panels[0]
    new = {round(first.bounds[axis], 4): first.bounds[axis]}
    waiting: list[Panel] = list(piece.panels)
    while waiting:
        left = [p for p in waiting if not _laid(p, figures, axis, new)]
        if len(left) == len(waiting):
            break
        waiting = left
    return new


def _laid(panel: Panel, figures: Printed, axis: int, new: dict[float, float]) -> bool:
    low, high = round(panel.bounds[axis], 4), round(panel.bounds[axis + 2], 4)
    exact = panel.bounds[axis + 2] - panel.bounds[axis]
    mm = figures.get(same(exact), exact)
    if low in new and high in new:
        return True
    if low in new:
        new[high] = new[low] + mm
    elif high in new:
        new[low] = new[high] - mm
    else:
        return False
    return True


def _stretched(new: Mapping[float, float]) -> Callable[[float], float]:
    """A coordinate after the setting out: between two edges in proportion."""
    at = sorted(new)
    to = [new[x] for x in at]

    def place(x: float) -> float:
        i = bisect_right(at, x) - 1
        if i < 0:
            return x + to[0] - at[0]
        if i >= len(at) - 1:
            return x + to[-1] - at[-1]
        share = (x - at[i]) / (at[i + 1] - at[i])
        return to[i] + share * (to[i + 1] - to[i])

    return place


def holding_in(results: Iterable[CheckResult]) -> Holding:
    """What holds in the design, in the order of the checks."""
    return frozenset((r.code, r.subject) for r in results if r.result == "pass" and r.code in CODES)


def fits_by_ruler(context: Context, figures: Printed) -> tuple[CheckResult, ...]:
    """What the checks say of the pieces that these figures make."""
    pieces = {p.name: _kept(context, p, figures) for p in context.pattern.pieces if figures}
    ruled = Context(with_pieces(context.pattern, pieces), context.story, context.trade)
    return tuple(r for rule in RULES for r in rule.check(ruled))


def _kept(context: Context, piece: Piece, figures: Printed) -> Piece:
    """The piece as these figures make it; most trials change one length of one piece."""
    own = tuple(figures.get(mm, mm) for mm in dimensions((piece,)))
    key = f"ruled {piece.name} {own}"
    if key not in context.kept:
        context.kept[key] = as_ruled(piece, figures)
    return context.kept[key]  # type: ignore[no-any-return]
