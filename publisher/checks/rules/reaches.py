"""``X reaches Y`` and ``X tucks under Y``: how far one thing lies over, or under, the other."""

from __future__ import annotations

import math

import shapely
from shapely.geometry.base import BaseGeometry

from publisher.checks.apart import apart_mm, stacked_mm
from publisher.checks.claims import Measured, judged_in_place, said, unproven, verdict
from publisher.checks.context import Context, Results, failed
from publisher.checks.places import Shape, away_mm, parallel, seen_from
from publisher.checks.types import CheckResult
from publisher.geometry.space import dot
from publisher.model.types import Claim

REACHES = "does-not-reach"
UNDER = "not-tucked-under"


def check(context: Context) -> Results:
    yield from judged_in_place(context, ("reaches", "tucks under"), _claim)


def _claim(
    context: Context, claim: Claim, first: tuple[Shape, ...], second: tuple[Shape, ...]
) -> CheckResult:
    assert claim.object is not None
    a, b = said(claim.subject), said(claim.object)
    pairs = [(_over(context, claim, s, t), s, t) for s in first for t in second]
    over, shape, other = max(pairs, key=lambda p: p[0])
    measured = Measured("over", over)
    if claim.verb == "reaches":
        return verdict(
            context,
            claim,
            REACHES,
            measured,
            f"{a} reaches {{}} over {b}",
            f"{a} ends {{}} before {b}",
            ways_out=(f"make {a} longer",),
        )
    side = _side(context, shape, other)
    if over > 0 and side is not None and not _outside(context, claim, shape, side):
        return failed(
            UNDER,
            f"{a} and {b}",
            (("over_mm", over),),
            f"{a} lies over {b}, not under it",
            claim.span,
        )
    if over > 0 and side is None:
        return unproven(claim, f"which of {a} and {b} lies above is not decided by the steps")
    return verdict(
        context,
        claim,
        UNDER,
        measured,
        f"{a} reaches {{}} under {b}",
        f"{a} ends {{}} before {b}",
        ways_out=(f"make {a} longer",),
    )


def _over(context: Context, claim: Claim, shape: Shape, other: Shape) -> float:
    """How far the two lie over each other in the direction that the first one reaches; less
    than 0 for the gap between them."""
    if not parallel(shape, other) or abs(away_mm(shape.pose, other)) > stacked_mm(context.pattern):
        return -apart_mm(shape, other)
    there = seen_from(shape.pose, other)
    both = shape.flat.intersection(there)
    if both.is_empty:
        return -float(shape.flat.distance(there))
    if both.geom_type not in ("Polygon", "MultiPolygon", "GeometryCollection"):
        both = there.intersection(shape.flat.buffer(1e-9))
    along = _reach(context, claim, shape, both)
    values = [x * along[0] + y * along[1] for x, y in shapely.get_coordinates(both)]
    return float(max(values) - min(values))


def _reach(context: Context, claim: Claim, shape: Shape, both: BaseGeometry) -> tuple[float, float]:
    """Away from the fold that carries the panel; for a loose piece the short way through what
    lies over each other."""
    piece = (context.story.handled or context.pattern).piece(shape.piece)
    fold = next((f for f in piece.folds if f.child == claim.subject.part), None)
    if fold is not None:
        dx, dy = fold.end[0] - fold.start[0], fold.end[1] - fold.start[1]
        length = math.hypot(dx, dy)
        return (-dy / length, dx / length)
    box = shapely.minimum_rotated_rectangle(both)
    corners = shapely.get_coordinates(box)
    sides = [
        (corners[i + 1][0] - corners[i][0], corners[i + 1][1] - corners[i][1])
        for i in range(min(2, len(corners) - 1))
    ]
    dx, dy = min(sides, key=lambda s: math.hypot(*s))
    length = math.hypot(dx, dy) or 1.0
    return (float(dx / length), float(dy / length))


def _side(context: Context, shape: Shape, other: Shape) -> int | None:
    """On which side of the shape the other lies: +1 its front, -1 its back."""
    for lower, upper, side in context.story.end.above:
        if (lower, upper) == (shape.facet, other.facet):
            return side
        if (lower, upper) == (other.facet, shape.facet):
            return -side if dot(shape.pose.normal, other.pose.normal) > 0 else side
    return None


def _outside(context: Context, claim: Claim, shape: Shape, side: int) -> bool:
    """Whether that side is the outer one: the other than where its own piece lies."""
    for lower, upper, own in context.story.end.above:
        for mine, theirs, turn in ((lower, upper, 1), (upper, lower, -1)):
            if mine == shape.facet and theirs[0] == shape.facet[0]:
                if turn < 0:
                    poses = dict(context.story.end.body(mine[0]).facets)
                    same = dot(poses[mine[1]].normal, poses[theirs[1]].normal) > 0
                    own = -own if same else own
                return own != side
    return True
