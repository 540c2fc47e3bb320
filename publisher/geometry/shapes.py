"""Shapes of the trade as rings about their own middle (0, 0), clockwise as seen, in mm."""

from __future__ import annotations

import math
from collections.abc import Sequence

from publisher.geometry.canonical import oriented
from publisher.geometry.path import Arc, Line, Path, Point, Segment, polygon

MOST_CORNERS = 360
"""More corners than any cut shape needs."""

ELLIPSE_MM = 0.01
"""How far an ellipse's arcs may stray from it: half of what a cutter can follow."""


def rectangle_ring(width_mm: float, height_mm: float) -> Path:
    """From the top left corner."""
    x, y = width_mm / 2.0, height_mm / 2.0
    return polygon([(-x, -y), (x, -y), (x, y), (-x, y)])


def regular_corners(count: int, radius_mm: float) -> tuple[Point, ...]:
    """Corners on a circle, clockwise, the lowest side level: a triangle stands on its base."""
    half = math.pi / count
    return tuple(
        _on_circle(radius_mm, math.pi / 2.0 + half + 2.0 * half * (i + count // 2))
        for i in range(count)
    )


def radius_of_side(count: int, side_mm: float) -> float:
    """The circle through the corners of a regular polygon: s / (2 sin(pi / n)) (Euclid IV)."""
    return side_mm / (2.0 * math.sin(math.pi / count))


def star_corners(count: int, radius_mm: float, inner_mm: float) -> tuple[Point, ...]:
    """Tips and notches in turn, clockwise, the first tip straight up."""
    step = math.pi / count
    return tuple(
        _on_circle(radius_mm if i % 2 == 0 else inner_mm, -math.pi / 2.0 + step * i)
        for i in range(2 * count)
    )


def star_inner(count: int, radius_mm: float) -> float:
    """The notches' circle where each side runs straight on to the next tip but one: the star
    polygon {n/2}, R cos(2 pi / n) / cos(pi / n) (Coxeter, Regular Polytopes 6.1). For five or
    more tips."""
    return radius_mm * math.cos(2.0 * math.pi / count) / math.cos(math.pi / count)


def _on_circle(radius: float, angle: float) -> Point:
    x, y = radius * math.cos(angle), radius * math.sin(angle)
    # Level and upright sides are meant to be so to the last bit.
    return (round(x, 12) + 0.0, round(y, 12) + 0.0)


def half_round_ring(width_mm: float, depth_mm: float) -> Path:
    """Flat below, round above. Deeper than half its width it has straight sides first; flatter
    it is a segment of a circle with radius (w^2 / 4 + d^2) / 2d."""
    half, top, foot = width_mm / 2.0, -depth_mm / 2.0, depth_mm / 2.0
    base = Line((half, foot), (-half, foot))
    straight = depth_mm - half
    if straight > 1e-9:
        shoulder = top + half
        a, b = (-half, shoulder), (half, shoulder)
        return Path((Line((-half, foot), a), Arc(a, b, (0.0, shoulder), True), Line(b, base.start),
                     base), True)  # fmt: skip
    radius = (half * half + depth_mm * depth_mm) / (2.0 * depth_mm)
    centre = (0.0, top + radius)
    return Path((Arc((-half, foot), (half, foot), centre, True), base), True)


def ellipse_ring(width_mm: float, height_mm: float, within_mm: float = ELLIPSE_MM) -> Path:
    """An ellipse as arcs that run into each other without a corner, within ``within_mm`` of it.

    Each stretch is two arcs that share the ellipse's directions at its ends (a biarc, Bolton
    1975); stretches are halved until the arcs stay near enough.
    """
    a, b = width_mm / 2.0, height_mm / 2.0
    count = 1
    while True:
        arcs = _quarter(a, b, count)
        near = all(_strays(arc, a, b) <= within_mm for arc in arcs)
        if arcs and (near or count >= 64):
            break
        count *= 2
    ring: list[Segment] = []
    for quarter in range(4):
        flips = quarter % 2 == 1
        sx, sy = ((1, -1), (1, 1), (-1, 1), (-1, -1))[quarter]
        for arc in reversed(arcs) if flips else arcs:
            start, end = (arc.end, arc.start) if flips else (arc.start, arc.end)
            ring.append(
                Arc(
                    _signed(start, sx, sy),
                    _signed(end, sx, sy),
                    _signed(arc.centre, sx, sy),
                    True,
                )
            )
    return Path(tuple(ring), True)


def _signed(p: Point, sx: int, sy: int) -> Point:
    return (p[0] * sx + 0.0, p[1] * sy + 0.0)


def _quarter(a: float, b: float, count: int) -> list[Arc]:
    """From (0, b) to (a, 0) in the first quarter of a plane with y up; none where one of them
    would be straight, as at a third as wide as high."""
    arcs: list[Arc] = []
    for i in range(count):
        (p, t), (q, u) = (_on_ellipse(a, b, math.pi / 2.0 * (i + j) / count) for j in (0, 1))
        pair = biarc(p, t, q, u)
        if not pair:
            return []
        arcs += pair
    return arcs


def _on_ellipse(a: float, b: float, angle: float) -> tuple[Point, Point]:
    """A point and the direction there, from the top on."""
    s, c = math.sin(angle), math.cos(angle)
    if abs(c) < 1e-15:
        c = 0.0
    dx, dy = a * c, -b * s
    length = math.hypot(dx, dy)
    return (a * s, b * c), (dx / length, dy / length)


def biarc(p: Point, t: Point, q: Point, u: Point) -> list[Arc]:
    """Two arcs from ``p`` (direction ``t``) to ``q`` (direction ``u``), equal tangent lengths;
    none where one of them would be a straight line."""
    vx, vy = q[0] - p[0], q[1] - p[1]
    turn = 2.0 * (1.0 - (t[0] * u[0] + t[1] * u[1]))
    along = vx * (t[0] + u[0]) + vy * (t[1] + u[1])
    square = vx * vx + vy * vy
    reach = (-along + math.sqrt(along * along + turn * square)) / turn
    joint = (
        (p[0] + q[0] + reach * (t[0] - u[0])) / 2.0,
        (p[1] + q[1] + reach * (t[1] - u[1])) / 2.0,
    )
    first = _leaving(p, t, joint)
    second = _leaving(q, (-u[0], -u[1]), joint)
    if first is None or second is None:
        return []
    return [first, Arc(joint, q, second.centre, not second.clockwise)]


def _leaving(p: Point, t: Point, q: Point) -> Arc | None:
    """The arc that leaves ``p`` in direction ``t`` and reaches ``q``; None where that is a line."""
    nx, ny = -t[1], t[0]
    wx, wy = q[0] - p[0], q[1] - p[1]
    side = nx * wx + ny * wy
    if abs(side) < 1e-9 * math.hypot(wx, wy):
        return None
    k = (wx * wx + wy * wy) / (2.0 * side)
    return Arc(p, q, (p[0] + nx * k, p[1] + ny * k), side > 0.0)


def _strays(arc: Arc, a: float, b: float) -> float:
    """How far the arc leaves the ellipse: |F| / |grad F| at points along it."""
    worst = 0.0
    for i in range(1, 8):
        angle = math.radians(arc.start_deg + arc.sweep_deg * i / 8.0)
        x = arc.centre[0] + arc.radius_mm * math.cos(angle)
        y = arc.centre[1] + arc.radius_mm * math.sin(angle)
        off = (x / a) ** 2 + (y / b) ** 2 - 1.0
        slope = 2.0 * math.hypot(x / (a * a), y / (b * b))
        worst = max(worst, abs(off) / slope)
    return worst


def arc_by_rise(start: Point, end: Point, rise_mm: float) -> Segment:
    """An arc that stands ``rise_mm`` off its chord, to the left of the way for more than 0.

    r = (c^2 / 4 + h^2) / 2h for chord c and rise h.
    """
    chord = math.dist(start, end)
    if rise_mm == 0.0 or chord == 0.0:
        return Line(start, end)
    ux, uy = (end[0] - start[0]) / chord, (end[1] - start[1]) / chord
    radius = (chord * chord / 4.0 + rise_mm * rise_mm) / (2.0 * rise_mm)
    middle = ((start[0] + end[0]) / 2.0, (start[1] + end[1]) / 2.0)
    # The left of the way, as seen with y down, is (uy, -ux).
    back = rise_mm - radius
    return Arc(start, end, (middle[0] + uy * back, middle[1] - ux * back), rise_mm > 0.0)


def arc_through(start: Point, by: Point, end: Point) -> Segment:
    """The arc from ``start`` through ``by`` to ``end``; a line where the three are in line."""
    (x1, y1), (x2, y2), (x3, y3) = start, by, end
    ax, ay, bx, by_ = x2 - x1, y2 - y1, x3 - x1, y3 - y1
    cross = ax * by_ - ay * bx
    if abs(cross) < 1e-9 * max(1.0, math.hypot(bx, by_)):
        return Line(start, end)
    a2, b2 = ax * ax + ay * ay, bx * bx + by_ * by_
    cx = (by_ * a2 - ay * b2) / (2.0 * cross)
    cy = (ax * b2 - bx * a2) / (2.0 * cross)
    return Arc(start, end, (x1 + cx, y1 + cy), cross > 0.0)


def ring_of(points: Sequence[Point]) -> Path:
    """Straight lines through the points, clockwise."""
    return oriented(polygon(list(points)), clockwise=True)
