"""``X clears Y``: how far apart two things stay when everything is made."""

from __future__ import annotations

from publisher.checks.apart import apart_mm, stacked_mm
from publisher.checks.claims import Measured, judged_in_place, said, verdict
from publisher.checks.context import Context, Results
from publisher.checks.places import CHORD_MM, Shape
from publisher.checks.types import CheckResult
from publisher.model.types import Claim

CODE = "does-not-clear"
TOUCHING_MM = 2 * CHORD_MM
"""What touches is not clear, also where no figure is asked for."""


def check(context: Context) -> Results:
    yield from judged_in_place(context, ("clears",), _claim)


def _claim(
    context: Context, claim: Claim, first: tuple[Shape, ...], second: tuple[Shape, ...]
) -> CheckResult:
    assert claim.object is not None
    a, b = said(claim.subject), said(claim.object)
    stacked = stacked_mm(context.pattern)
    gap = min(apart_mm(s, t, stacked) for s in first for t in second)
    return verdict(
        context,
        claim,
        CODE,
        Measured("apart", gap if gap > TOUCHING_MM else -2 * TOUCHING_MM),
        f"{a} clears {b} by {{}}",
        f"{a} reaches into {b}",
        ways_out=(f"move {a} and {b} apart, or make one of them smaller",),
    )
