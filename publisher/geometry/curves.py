"""Cubic Bezier curves as circular arcs that run into each other without a corner."""

from __future__ import annotations

import math

from publisher.geometry.path import Line, Point, Segment
from publisher.geometry.segments import nearest_on
from publisher.geometry.shapes import biarc

CURVE_MM = 0.01
"""How far the arcs may stray from the curve: half of what a cutter can follow."""

_DEEPEST = 10
_SAMPLES = 16
_SURE = 0.98
"""Between two samples the arcs stray a little further than at either."""
_TINY = 1e-9
_FINEST = 1e-5
"""Of a curve's size; our own choice: what is larger than a metre is not cut by a machine."""

Cubic = tuple[Point, Point, Point, Point]


def quadratic_arcs(start: Point, control: Point, end: Point) -> list[Segment]:
    """A quadratic curve likewise. It never bends both ways, so that two arcs may do for all."""
    cubic = (start, _third(start, control), _third(end, control), end)
    return _arcs(cubic, _within(cubic, CURVE_MM), _DEEPEST - 1)


def _third(end: Point, control: Point) -> Point:
    """A quadratic curve's control point as one of a cubic: two thirds of the way towards it."""
    return (
        end[0] + (control[0] - end[0]) * 2.0 / 3.0,
        end[1] + (control[1] - end[1]) * 2.0 / 3.0,
    )


def cubic_arcs(curve: Cubic, within_mm: float = CURVE_MM) -> list[Segment]:
    """The curve from its first to its last point as arcs and lines within ``within_mm`` of it.

    Each stretch is two arcs that share the curve's directions at its ends (a biarc, Bolton
    1975); stretches are halved (de Casteljau) until the arcs stay near enough. A curve whose
    four points are in one line is a line.
    """
    return _arcs(curve, _within(curve, within_mm), _DEEPEST)


def _within(curve: Cubic, within_mm: float) -> float:
    """No curve larger than a metre needs to be nearer than a hundred-thousandth of its size."""
    size = max(math.dist(curve[0], point) for point in curve[1:])
    return max(within_mm, size * _FINEST)


def _arcs(curve: Cubic, within_mm: float, deep: int) -> list[Segment]:
    start, end = curve[0], curve[3]
    if math.dist(start, end) < _TINY and _flatness(curve) < _TINY:
        return []
    if _flatness(curve) < min(within_mm, 1e-6):
        return [Line(start, end)]
    found = _biarc(curve) if deep < _DEEPEST else None
    if found is not None and _strays(curve, found) <= _SURE * within_mm:
        return found
    if deep == 0:
        return [Line(start, end)]
    first, second = halved(curve)
    return _arcs(first, within_mm, deep - 1) + _arcs(second, within_mm, deep - 1)


def halved(curve: Cubic) -> tuple[Cubic, Cubic]:
    """Both halves of the curve, by the parameter (de Casteljau)."""
    p0, p1, p2, p3 = curve
    a, b, c = _between(p0, p1), _between(p1, p2), _between(p2, p3)
    d, e = _between(a, b), _between(b, c)
    middle = _between(d, e)
    return (p0, a, d, middle), (middle, e, c, p3)


def cubic_point(curve: Cubic, t: float) -> Point:
    """The point at parameter ``t`` (0 to 1)."""
    s = 1.0 - t
    w = (s * s * s, 3.0 * s * s * t, 3.0 * s * t * t, t * t * t)
    return (
        sum(k * p[0] for k, p in zip(w, curve, strict=True)),
        sum(k * p[1] for k, p in zip(w, curve, strict=True)),
    )


def _between(a: Point, b: Point) -> Point:
    return ((a[0] + b[0]) / 2.0, (a[1] + b[1]) / 2.0)


def _flatness(curve: Cubic) -> float:
    """How far the inner points lie off the stretch from start to end."""
    line = Line(curve[0], curve[3])
    if math.dist(curve[0], curve[3]) < _TINY:
        return max(math.dist(p, curve[0]) for p in curve[1:3])
    return max(math.dist(nearest_on(line, p), p) for p in curve[1:3])


def _biarc(curve: Cubic) -> list[Segment] | None:
    t, u = _heading(curve), _heading((curve[3], curve[2], curve[1], curve[0]))
    if t is None or u is None:
        return None
    u = (-u[0], -u[1])
    try:
        found = biarc(curve[0], t, curve[3], u)
    except ZeroDivisionError:
        return None
    # What bends back on itself, or hardly bends, is halved first.
    if not found or any(abs(a.sweep_deg) > 120.0 or a.radius_mm > 1e5 for a in found):
        return None
    return list(found)


def _heading(curve: Cubic) -> Point | None:
    for p in curve[1:]:
        length = math.dist(curve[0], p)
        if length > _TINY:
            return ((p[0] - curve[0][0]) / length, (p[1] - curve[0][1]) / length)
    return None


def _strays(curve: Cubic, found: list[Segment]) -> float:
    worst = 0.0
    for i in range(1, _SAMPLES):
        p = cubic_point(curve, i / _SAMPLES)
        worst = max(worst, min(math.dist(nearest_on(s, p), p) for s in found))
    return worst
