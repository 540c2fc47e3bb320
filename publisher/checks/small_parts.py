"""What small children could swallow: whatever fits the test cylinder for small parts.

The cylinder is 31.7 mm across and 25.4 to 57.1 mm deep, its floor slanted (16 CFR 1501.4, from
memory). Where the law makes an exception of paper, a caution is still worth a line.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from publisher.assembly import closed_size
from publisher.assembly.types import State
from publisher.checks.context import Context, failed, passed
from publisher.checks.types import CheckResult
from publisher.diagnostics import Span

CODE = "small-part"
ACROSS_MM = 31.7
DEEP_MM = 57.1
"""The deepest side: a part that only fits there is called small too, to be careful."""


def fits_cylinder(size: tuple[float, float, float]) -> bool:
    """Whether a box goes in whole, its longest side down the cylinder."""
    a, b, c = sorted(size)
    return math.hypot(a, b) <= ACROSS_MM and c <= DEEP_MM


def small_parts(context: Context) -> Iterator[CheckResult]:
    """What lies loose at the end and what is put in, each on its own."""
    for name, size, span in _loose(context):
        a, b, c = sorted(size)
        numbers = (("across_mm", math.hypot(a, b)), ("long_mm", c))
        if fits_cylinder(size):
            yield failed(
                CODE,
                name,
                numbers,
                f"{name} fits the cylinder of {context.say(ACROSS_MM)} that small parts for small"
                " children are measured by",
                span,
                severity="warning",
                notes=("Say in the text that it is nothing for children under three.",),
            )
        else:
            yield passed(CODE, name, numbers, f"{name} is too large to be swallowed")


def _loose(context: Context) -> Iterator[tuple[str, tuple[float, float, float], Span]]:
    end: State = context.story.end
    held = {body for bond in end.bonds for body, _ in (bond.first, bond.second)}
    for piece in context.pattern.pieces:
        if any(b.piece == piece.name and b.id not in held for b in end.bodies):
            yield piece.name, closed_size(piece), piece.span
    told: set[str] = set()
    for claim in context.pattern.claims:
        for target in (claim.subject, claim.object):
            if target is not None and target.size_mm is not None and target.piece not in told:
                told.add(target.piece)
                yield target.piece, target.size_mm, claim.span
