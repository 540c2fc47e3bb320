"""``X lies flush with Y``: two edges in one line, or two faces in one plane.

Across the faces some thicknesses of paper do not count, along them every hair does.
"""

from __future__ import annotations

import math

import shapely

from publisher.checks.apart import stacked_mm
from publisher.checks.claims import judged_in_place, said, unproven
from publisher.checks.context import Context, Results, failed, passed
from publisher.checks.places import Shape, away_mm, parallel
from publisher.checks.types import CheckResult
from publisher.geometry.space import Vector, cross, dot, lift, norm, sub, unit
from publisher.model.types import Claim

CODE = "not-flush"


def check(context: Context) -> Results:
    yield from judged_in_place(context, ("lies flush with",), _claim)


def _claim(
    context: Context, claim: Claim, first: tuple[Shape, ...], second: tuple[Shape, ...]
) -> CheckResult:
    assert claim.object is not None
    a, b = said(claim.subject), said(claim.object)
    lines = [_is_line(s) for s in (*first, *second)]
    if any(lines) and not all(lines):
        return unproven(claim, f"{a} and {b}: an edge lies flush with an edge, a face with a face")
    pairs = [(s, t) for s in first for t in second]
    if all(lines):
        off, stacked, turned = min((_edges(s, t) for s, t in pairs), key=lambda m: (m[0], m[1]))
    else:
        off, stacked, turned = min(_faces(s, t) for s, t in pairs)
    tolerance = context.practice("mating_tolerance_mm")
    most = stacked_mm(context.pattern)
    numbers = (("off_mm", off), ("stacked_mm", stacked), ("turned_deg", turned))
    slack = (("off", tolerance - off),)
    if off > tolerance or stacked > most:
        return failed(
            CODE,
            f"{a} and {b}",
            numbers,
            f"{a} lies {context.say(max(off, stacked if stacked > most else 0.0))} off {b}",
            claim.span,
            slack=slack,
        )
    return passed(CODE, f"{a} and {b}", numbers, f"{a} lies flush with {b}", slack)


def _is_line(shape: Shape) -> bool:
    return shape.flat.geom_type == "LineString"


def _ends(shape: Shape) -> tuple[Vector, Vector]:
    points = shapely.get_coordinates(shape.flat)
    a, b = points[0], points[-1]
    return (
        shape.pose.apply(lift((float(a[0]), float(a[1])))),
        shape.pose.apply(lift((float(b[0]), float(b[1])))),
    )


def _edges(first: Shape, second: Shape) -> tuple[float, float, float]:
    """Of the second edge from the line of the first: how far along the face, how far over it,
    and the angle between them in degrees."""
    a, b = _ends(first)
    along, normal = unit(sub(b, a)), first.pose.normal
    aside = cross(normal, along)
    ends = [sub(p, a) for p in _ends(second)]
    turned = unit(sub(*_ends(second)[::-1]))
    off = max(abs(dot(p, aside)) for p in ends)
    over = max(abs(dot(p, normal)) for p in ends)
    return off, over, math.degrees(math.asin(min(1.0, norm(cross(along, turned)))))


def _faces(first: Shape, second: Shape) -> tuple[float, float, float]:
    angle = math.degrees(math.acos(min(1.0, abs(dot(first.pose.normal, second.pose.normal)))))
    if not parallel(first, second):
        return float("inf"), 0.0, angle
    return abs(away_mm(first.pose, second)), 0.0, angle
