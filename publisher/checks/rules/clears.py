"""``X clears Y``: how far apart two things stay when everything is made."""

from __future__ import annotations

from publisher.checks.apart import apart_mm, stacked_mm
from publisher.checks.claims import Measured, said, unproven, verdict
from publisher.checks.context import Context, Results
from publisher.checks.places import CHORD_MM, located
from publisher.checks.types import CheckResult
from publisher.model.types import Claim

CODE = "does-not-clear"
TOUCHING_MM = 2 * CHORD_MM
"""What touches is not clear, also where no figure is asked for."""


def check(context: Context) -> Results:
    for claim in context.pattern.claims:
        if claim.verb == "clears" and claim.object is not None:
            yield _claim(context, claim)


def _claim(context: Context, claim: Claim) -> CheckResult:
    assert claim.object is not None
    first, second = located(context, claim)
    a, b = said(claim.subject), said(claim.object)
    if not first or not second:
        return unproven(claim, f"{a} or {b} lies nowhere, so ‘clears’ cannot be proven")
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
