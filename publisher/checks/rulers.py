"""A maker with a ruler: every piece as it comes out of its printed, rounded figures.

Panels are set out one from the other, as a ruler is laid: from the edge that is there already,
as far as the figure says. The fits are then measured on what has come of it. Where a rounding
breaks one, other roundings of the same figures are looked for with which all hold.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Callable, Iterator, Mapping
from typing import TypeAlias

from msgspec import Struct

from publisher.checks.claims import claimed
from publisher.checks.context import Context, failed, passed
from publisher.checks.making import reshaped, with_pieces
from publisher.checks.tolerances import STAND_ALONE
from publisher.checks.types import CheckResult
from publisher.geometry.path import Point
from publisher.model.types import Panel, Piece
from publisher.units import MM_PER_INCH, FirstUnit, as_printed_mm, one

CODE = "ruler-breaks-fit"
STEP_MM: Mapping[FirstUnit, float] = {"mm": 0.5, "in": MM_PER_INCH / 16}
"""What a ruler shows."""
MOST_TURNS = 8
"""How many figures may be rounded the other way."""
RULED = {"mm": "millimetres", "in": "inches"}


class Dimension(Struct, frozen=True):
    """A panel's measure along one axis (0 across, 1 down)."""

    piece: str
    panel: str
    axis: int

    @property
    def said(self) -> str:
        whose = self.piece if self.panel == self.piece else f"{self.panel} of {self.piece}"
        return f"{whose} {('wide', 'high')[self.axis]}"


Printed: TypeAlias = Mapping[Dimension, float]
"""What is printed for a dimension, in mm."""


def dimensions(piece: Piece) -> dict[Dimension, float]:
    """Every measure of a panel that a ruler can set out, mm as designed."""
    found: dict[Dimension, float] = {}
    for panel in piece.panels:
        for axis, mm in enumerate((panel.width_mm, panel.height_mm)):
            if mm > STEP_MM["in"]:
                found[Dimension(piece.name, panel.name, axis)] = mm
    return found


def printed(piece: Piece, unit: FirstUnit) -> dict[Dimension, float]:
    """The same as the booklet prints them."""
    return {d: as_printed_mm(mm, unit=unit) for d, mm in dimensions(piece).items()}


def as_ruled(piece: Piece, figures: Printed) -> Piece:
    """The piece as these figures make it."""
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
        left = [p for p in waiting if not _laid(p, figures, axis, new, piece.name)]
        if len(left) == len(waiting):
            break
        waiting = left
    return new


def _laid(panel: Panel, figures: Printed, axis: int, new: dict[float, float], piece: str) -> bool:
    low, high = round(panel.bounds[axis], 4), round(panel.bounds[axis + 2], 4)
    mm = figures.get(
        Dimension(piece, panel.name, axis), panel.bounds[axis + 2] - panel.bounds[axis]
    )
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


def ruler_verdicts(context: Context) -> Iterator[CheckResult]:
    """For each unit whether the fits hold, and where not, with which roundings they would."""
    holding = {r.subject for r in _fits(context, {}) if r.result == "pass"}
    for unit in ("mm", "in"):
        figures: dict[Dimension, float] = {}
        for piece in context.pattern.pieces:
            figures |= printed(piece, unit)
        results = [r for r in _fits(context, figures) if r.subject in holding]
        wrong = [r for r in results if r.result != "pass"]
        numbers = (("figures", float(len(figures))), ("fits", float(len(results))))
        if not wrong:
            if results:
                yield passed(
                    CODE,
                    f"a ruler in {RULED[unit]}",
                    numbers,
                    f"cut to the printed figures with a ruler in {RULED[unit]}, everything fits",
                )
            continue
        better = chosen(context, unit, figures, holding)
        notes: tuple[str, ...] = ()
        if better is not None:
            other = [d for d in figures if abs(better[d] - figures[d]) > 1e-9]
            said = ", ".join(f"{d.said} {one(better[d], unit=unit)}" for d in other)
            notes = (f"It fits when these are printed so: {said}.",)
        for result in wrong:
            yield failed(
                CODE,
                f"{result.subject} by a ruler in {RULED[unit]}",
                (*numbers, *result.slack),
                f"cut to the printed figures with a ruler in {RULED[unit]}: {result.sentence}",
                *claimed(context, result.subject),
                notes=notes,
                severity="warning",
            )


def _fits(context: Context, figures: Printed) -> tuple[CheckResult, ...]:
    pieces = {p.name: as_ruled(p, figures) for p in context.pattern.pieces if figures}
    ruled = Context(with_pieces(context.pattern, pieces), context.story, context.trade)
    return tuple(r for rule in STAND_ALONE for r in rule.check(ruled) if r.slack)


def chosen(
    context: Context, unit: FirstUnit, figures: Printed, holding: set[str]
) -> dict[Dimension, float] | None:
    """Figures that a ruler shows too, as near as may be, with which all fits hold; None where
    none were found. One figure after the other is rounded the other way, always the one that
    leaves the least missing."""
    exact: dict[Dimension, float] = {}
    for piece in context.pattern.pieces:
        exact |= dimensions(piece)
    now = dict(figures)
    for _ in range(MOST_TURNS):
        missing = _missing(context, now, holding)
        if missing <= 0:
            return now
        tries = []
        for dimension, mm in exact.items():
            step = STEP_MM[unit]
            other = now[dimension] + (step if now[dimension] <= mm + 1e-9 else -step)
            if abs(other - mm) < step + 1e-9:
                tries.append({**now, dimension: other})
        if not tries:
            return None
        best = min(tries, key=lambda t: _missing(context, t, holding))
        if _missing(context, best, holding) >= missing - 1e-9:
            return None
        now = best
    return now if _missing(context, now, holding) <= 0 else None


def _missing(context: Context, figures: Printed, holding: set[str]) -> float:
    return sum(
        max(0.0, -mm)
        for r in _fits(context, figures)
        if r.subject in holding
        for _, mm in r.slack
        if mm < -1e-9
    )
