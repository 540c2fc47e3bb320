"""Measures by brute force, for the mutation test: plain sums over points and segments.

Nothing here is used by the product, and nothing of its checks or of its geometry library is
used here: arcs are walked by their centre and angle, regions are asked point by point.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Sequence

import numpy as np

from publisher.geometry.path import Arc, Path, Point

ON_ARC = 96


def walk(path: Path) -> list[Point]:
    """Corners of a path, arcs in many short steps."""
    points: list[Point] = []
    for segment in path.segments:
        points.append(segment.start)
        if isinstance(segment, Arc):
            start, sweep = math.radians(segment.start_deg), math.radians(segment.sweep_deg)
            for i in range(1, ON_ARC):
                angle = start + sweep * i / ON_ARC
                points.append(
                    (
                        segment.centre[0] + segment.radius_mm * math.cos(angle),
                        segment.centre[1] + segment.radius_mm * math.sin(angle),
                    )
                )
    points.append(path.segments[-1].end)
    return points


def sides(points: Sequence[Point]) -> Iterator[tuple[Point, Point]]:
    return itertools.pairwise(points)


def to_segment(p: Point, a: Point, b: Point) -> float:
    dx, dy = b[0] - a[0], b[1] - a[1]
    length = dx * dx + dy * dy
    t = 0.0 if length == 0 else ((p[0] - a[0]) * dx + (p[1] - a[1]) * dy) / length
    t = min(1.0, max(0.0, t))
    return math.dist(p, (a[0] + t * dx, a[1] + t * dy))


def to_line(p: Point, points: Sequence[Point]) -> float:
    return min(to_segment(p, a, b) for a, b in sides(points))


def on_paper(p: Point, rings: Sequence[Sequence[Point]]) -> bool:
    """Even and odd crossings of a ray to the right."""
    inside = False
    for ring in rings:
        for (ax, ay), (bx, by) in sides(ring):
            if (ay > p[1]) != (by > p[1]) and p[0] < (bx - ax) * (p[1] - ay) / (by - ay) + ax:
                inside = not inside
    return inside


def apart(first: Sequence[Point], second: Sequence[Point]) -> float:
    """Between two lines, from corners of each to the sides of the other, and many points
    between: the nearest places of lines that do not cross are at a corner of one."""
    if any(_cross(a, b, c, d) for a, b in sides(first) for c, d in sides(second)):
        return 0.0
    return min(
        min(to_line(p, second) for p in first),
        min(to_line(p, first) for p in second),
    )


def _turn(a: Point, b: Point, c: Point) -> float:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def _cross(a: Point, b: Point, c: Point, d: Point) -> bool:
    return _turn(a, b, c) * _turn(a, b, d) < 0 and _turn(c, d, a) * _turn(c, d, b) < 0


def crosses_itself(ring: Sequence[Point]) -> bool:
    """Whether any two sides of a closed ring cross in their middles."""
    all_sides = list(sides(ring))
    for i, (a, b) in enumerate(all_sides):
        for c, d in all_sides[i + 2 :]:
            if _cross(a, b, c, d):
                return True
    return False


def least_width(ring: Sequence[Point]) -> float:
    """Of a convex shape: the narrowest of its shadows, turned by a twentieth of a degree."""
    points = np.array(ring)
    angles = np.radians(np.arange(0, 180, 0.05))
    shadows = points @ np.array([np.cos(angles), np.sin(angles)])
    return float((shadows.max(axis=0) - shadows.min(axis=0)).min())


def area_outside(ring: Sequence[Point], homes: Sequence[Sequence[Point]], edge: float) -> float:
    """How much of a shape lies further than ``edge`` outside all the others, by small squares."""
    xs, ys = [p[0] for p in ring], [p[1] for p in ring]
    step = 0.1
    total = 0.0
    for x in np.arange(min(xs) + step / 2, max(xs), step):
        for y in np.arange(min(ys) + step / 2, max(ys), step):
            p = (float(x), float(y))
            if any(on_paper(p, [home]) for home in homes) or not on_paper(p, [ring]):
                continue
            if min(to_line(p, home) for home in homes) > edge:
                total += step * step
    return total
