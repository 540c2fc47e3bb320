"""Whether makers with a ruler of either unit succeed."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from publisher.checks.claims import claimed
from publisher.checks.context import Context, failed, passed
from publisher.checks.ruler_marks import SPEAKS, chosen
from publisher.checks.rulers import (
    Dimension,
    Holding,
    dimensions,
    fits_by_ruler,
    holding_in,
    printed,
    same,
)
from publisher.checks.types import CheckResult
from publisher.units import FirstUnit, on_the_mark, one

CODE = "ruler-breaks-fit"
RULED = {"mm": "millimetres", "in": "inches"}


def ruler_verdicts(context: Context) -> Iterator[CheckResult]:
    """For each unit whether the fits hold, and where not, with which marks they would."""
    if not any(claim.verb in SPEAKS for claim in context.pattern.claims):
        return
    holding = holding_in(fits_by_ruler(context, {}))
    for unit in ("mm", "in"):
        yield from _by_ruler(context, unit, holding)


def _by_ruler(context: Context, unit: FirstUnit, holding: Holding) -> Iterator[CheckResult]:
    pieces = context.pattern.pieces
    figures = printed(pieces, unit)
    subjects = {subject for _, subject in holding}
    results = [r for r in fits_by_ruler(context, figures) if r.subject in subjects]
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
        return
    better = chosen(context, unit, holding)
    note, so = "No other marks were found with which everything fits.", ""
    if better is not None:
        whose = dimensions(pieces)
        marks = (f"{_whose(whose[same(mm)])} {_on(to, unit)}" for _, mm, to in better)
        note = f"Printed instead, so that it fits: {_listed(list(marks))}."
        so = "; other marks are printed, and it fits"
    for result in wrong:
        yield failed(
            CODE,
            f"{result.subject} by a ruler in {RULED[unit]}",
            (*numbers, *result.slack),
            f"cut to the nearest marks of a ruler in {RULED[unit]}: {result.sentence}{so}",
            *claimed(context, result.subject),
            notes=(note,),
            severity="warning",
        )


def _on(mm: float, unit: FirstUnit) -> str:
    return one(mm, unit=unit, ruler=on_the_mark(unit, mm))


def _whose(all_of: Sequence[Dimension]) -> str:
    more = len(all_of) - 1
    return all_of[0].said + (f" (and {more} more)" if more else "")


def _listed(said: Sequence[str]) -> str:
    return said[0] if len(said) == 1 else f"{', '.join(said[:-1])} and {said[-1]}"
