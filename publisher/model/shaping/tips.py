"""Corners of a shape that point outwards."""

from __future__ import annotations

import math

from publisher.geometry.path import Point, Region
from publisher.geometry.segments import direction_at

_LEAST_TURN = math.sin(math.radians(1.0))


def tips_of(region: Region) -> tuple[tuple[Point, Point], ...]:
    """Corners that point out of the shape, clockwise, each with the direction in which it
    points: along the middle of the two sides, outwards."""
    ring = region.outer.segments
    found: list[tuple[Point, Point]] = []
    for before, after in zip(ring[-1:] + ring[:-1], ring, strict=True):
        u, v = direction_at(before, 1.0), direction_at(after, 0.0)
        cross = u[0] * v[1] - u[1] * v[0]
        if cross <= _LEAST_TURN:
            continue
        x, y = u[0] - v[0], u[1] - v[1]
        length = math.hypot(x, y)
        found.append((after.start, (x / length, y / length)))
    return tuple(found)
