"""On which marks of a ruler lengths are printed, so that what is cut to them fits."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from publisher.checks.context import Context
from publisher.checks.rulers import (
    SAME_POINT_MM,
    Chosen,
    Holding,
    Printed,
    dimensions,
    fits_by_ruler,
    holding_in,
    printed,
)
from publisher.checks.types import CheckResult
from publisher.model.types import Pattern, Piece
from publisher.units import MM_PER_INCH, FirstUnit, kind_for

STEP_MM: Mapping[FirstUnit, float] = {"mm": 0.5, "in": MM_PER_INCH / 16}
"""What a ruler shows."""
FINER_MM: Mapping[FirstUnit, float] = {"mm": 0.5, "in": MM_PER_INCH / 32}
"""What the finer side of a ruler shows; half millimetres are judged by eye already."""
MOST_TURNS = 6
"""How many lengths may be printed otherwise than by rounding."""
SPEAKS = ("goes into", "holds", "slides on")
"""The statements whose fit is measured here."""


def choices(pattern: Pattern, results: Iterable[CheckResult], context: Context) -> Chosen:
    """What is printed otherwise than by rounding, so that a maker with a ruler of either unit
    succeeds. ``results`` are those of the pattern as it is designed."""
    if not any(claim.verb in SPEAKS for claim in pattern.claims):
        return ()
    holding = holding_in(results)
    found: list[tuple[FirstUnit, float, float]] = []
    for unit in ("mm", "in"):
        found += chosen(context, unit, holding) or ()
    return tuple(found)


def chosen(context: Context, unit: FirstUnit, holding: Holding) -> Chosen | None:
    """The lengths that are printed on other marks than the nearest, with which all fits hold:
    none where rounding breaks no fit, None where none were found.

    One length after the other goes to the mark on its other side, or to one beside it on the
    finer side of the ruler: always the one that leaves the least missing, and of several alike
    the one that is moved least.
    """
    figures = printed(context.pattern.pieces, unit)
    if all(abs(to - mm) < SAME_POINT_MM for mm, to in figures.items()):
        return ()
    now = figures
    missing = _missing(context, now, holding)
    for _ in range(MOST_TURNS):
        if missing <= 0:
            break
        now, left = _better(context, unit, holding, now)
        if left >= missing - 1e-9:
            return None
        missing = left
    if missing > 0:
        return None
    return tuple((unit, mm, to) for mm, to in now.items() if abs(to - figures[mm]) > 1e-6)


def _better(
    context: Context, unit: FirstUnit, holding: Holding, now: Printed
) -> tuple[dict[float, float], float]:
    """One length printed otherwise, and what is missing then. The smallest moves are tried
    first; the first with which all holds is taken."""
    concerned = _concerned(context, now, holding)
    moves = sorted(
        (abs(to - mm), mm, to)
        for mm in dimensions(concerned)
        for to in marks_for(mm, unit)
        if abs(to - now[mm]) > SAME_POINT_MM
    )
    best, least = dict(now), float("inf")
    for _, mm, to in moves:
        trial = {**now, mm: to}
        missing = _missing(context, trial, holding)
        if missing < least - 1e-9:
            best, least = trial, missing
        if missing <= 0:
            break
    return best, least


def _concerned(context: Context, figures: Printed, holding: Holding) -> tuple[Piece, ...]:
    """The pieces that something that fails is about."""
    wrong = holding - holding_in(fits_by_ruler(context, figures))
    about = {word for _, subject in wrong for word in (f" {subject} ".replace(":", " "),)}
    named = tuple(p for p in context.pattern.pieces if any(f" {p.name} " in a for a in about))
    return named or context.pattern.pieces


def marks_for(mm: float, unit: FirstUnit) -> tuple[float, ...]:
    """The marks that a length may be printed as: the two that it lies between, on
    either side of the ruler."""
    if kind_for(mm) != "ruled":
        return ()
    step, finer = STEP_MM[unit], FINER_MM[unit]
    below, near = (int(mm / mark + 1e-6) * mark for mark in (step, finer))
    found = {round(m, 6) for m in (below, below + step, near, near + finer)}
    return tuple(sorted((m for m in found if m > 0), key=lambda m: abs(m - mm)))


def _missing(context: Context, figures: Printed, holding: Holding) -> float:
    """By how many mm the fits fail in all; what is no matter of lengths, or can no longer be
    measured, fails altogether."""
    results = fits_by_ruler(context, figures)
    lost = holding - holding_in(results)
    failing = {r.subject: r for r in results if r.result != "pass"}
    return sum(
        sum(max(0.0, -mm) for _, mm in failing[subject].slack) or 1000.0
        if subject in failing
        else 1000.0
        for _, subject in sorted(lost)
    )
