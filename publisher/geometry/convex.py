"""Convex paper with straight edges, cut along lines: nothing but its corners is asked."""

from __future__ import annotations

import math
from itertools import pairwise

from publisher.geometry.canonical import canonical_region
from publisher.geometry.path import Line, Point, Region, polygon
from publisher.geometry.segments import SNAP_MM

_STRAIGHT = 1e-9
"""Sine of the angle under which a corner is no corner."""


def is_convex(region: Region) -> bool:
    """Whether it has straight edges only, no holes, and turns one way at every corner."""
    segments = region.outer.segments
    if region.holes or len(segments) < 3 or not all(isinstance(s, Line) for s in segments):
        return False
    turns = set()
    for before, after in pairwise((*segments, segments[0])):
        ux, uy = before.end[0] - before.start[0], before.end[1] - before.start[1]
        vx, vy = after.end[0] - after.start[0], after.end[1] - after.start[1]
        turn = (ux * vy - uy * vx) / (math.hypot(ux, uy) * math.hypot(vx, vy) or 1.0)
        if abs(turn) < _STRAIGHT:
            return False  # a point on an edge, or an edge there and back
        turns.add(turn > 0.0)
    # A star turns one way too, but more than once round.
    return len(turns) == 1 and _rounds(region) == 1


def _rounds(region: Region) -> int:
    angles = [math.atan2(s.end[1] - s.start[1], s.end[0] - s.start[0]) for s in _lines(region)]
    total = sum(math.remainder(b - a, 2.0 * math.pi) for a, b in pairwise((*angles, angles[0])))
    return round(abs(total) / (2.0 * math.pi))


def _lines(region: Region) -> tuple[Line, ...]:
    return tuple(s for s in region.outer.segments if isinstance(s, Line))


def between(region: Region, *sides: tuple[Point, Point]) -> tuple[Region, ...]:
    """What is left of convex paper behind each line, given as (a point of it, the direction that
    leads away from what is kept, length 1): one region or none. It is
    the clipping of Sutherland and Hodgman (1974, from memory)."""
    corners = [line.start for line in _lines(region)]
    for (px, py), (nx, ny) in sides:
        kept: list[Point] = []
        off = [(x - px) * nx + (y - py) * ny for x, y in corners]
        for i, (x, y) in enumerate(corners):
            here, last = off[i], off[i - 1]
            if (here > SNAP_MM) != (last > SNAP_MM) and abs(here - last) > SNAP_MM:
                u, v = corners[i - 1]
                share = last / (last - here)
                crossing = (u + share * (x - u), v + share * (y - v))
                if abs(last) > SNAP_MM and abs(here) > SNAP_MM:
                    kept.append(crossing)
            if here <= SNAP_MM:
                kept.append((x, y))
        corners = kept
    if len(corners) < 3:
        return ()
    return (canonical_region(Region(polygon(corners))),)
