"""Tabs shortened where two of them would lie on each other."""

from __future__ import annotations

import math

from publisher.geometry.path import Point
from publisher.model.shaping.panels import along_and_out
from publisher.model.types import Edge

_SAME_MM = 1e-6


def corner_taper(edge: Edge, other: Edge, depth: float, at_start: bool) -> float | None:
    """The taper in mm that keeps a tab on ``edge`` on its own half of the corner it shares with
    a tab on ``other``; None where the two share no such corner or cannot touch.

    ``at_start`` says which end of ``edge``. The free angle between two tabs that grow from
    edges meeting in a point is halved by the bisector; each tab ends there.
    """
    corner = edge.start if at_start else edge.end
    if at_start:
        if math.dist(corner, other.end) > _SAME_MM:
            return None
    elif math.dist(corner, other.start) > _SAME_MM:
        return None
    u, _ = along_and_out(edge)
    v, _ = along_and_out(other)
    # Directions along each edge away from the corner, and the angle of free air between them.
    mine = u if at_start else (-u[0], -u[1])
    theirs = (-v[0], -v[1]) if at_start else v
    free = _free_angle(mine, theirs, clockwise=not at_start)
    if free >= math.pi:
        return None
    half = free / 2.0
    return depth / math.tan(half) if half > 1e-9 else None


def _free_angle(mine: Point, theirs: Point, clockwise: bool) -> float:
    """The angle from ``mine`` to ``theirs`` through the side that the tabs grow to."""
    a = math.atan2(mine[1], mine[0])
    b = math.atan2(theirs[1], theirs[0])
    turn = (b - a) if clockwise else (a - b)
    return turn % (2.0 * math.pi)
