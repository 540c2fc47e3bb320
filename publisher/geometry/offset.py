"""A region grown or shrunk by a constant border, arcs staying exact.

Every edge sweeps a strip at its side, every corner that opens a patch between two strips. The
borders of the region, the strips and the patches add up to one raw ring per ring, whose
winding number is positive exactly where the result has paper (growing: the region and all
strips; shrinking: the region less all strips).
"""

from __future__ import annotations

import math
from typing import Literal, TypeAlias

from publisher.geometry.arrangement import Arrangement
from publisher.geometry.canonical import canonical_region
from publisher.geometry.path import Arc, Line, Path, Point, Region, Segment
from publisher.geometry.rings import bounded, settled
from publisher.geometry.segments import SNAP_MM, direction_at

Corners: TypeAlias = Literal["mitred", "rounded", "bevelled"]

MITRE_LIMIT = 10.0
"""A mitre longer than this many borders is bevelled instead (a corner under 11.5 degrees)."""


def offset_region(region: Region, by_mm: float, corners: Corners = "mitred") -> tuple[Region, ...]:
    """The region grown by ``by_mm`` all round (positive) or shrunk (negative).

    An arc becomes an arc with the same centre. ``corners`` says what an opening corner gets:
    the edges prolonged until they meet, an arc about the corner, or a straight cut between the
    two strips. Shrinking may leave several regions or none.
    """
    whole = canonical_region(region)
    if by_mm == 0.0:
        return (whole,)
    raw: list[Segment] = []
    for ring in (whole.outer, *whole.holes):
        raw += _raw_ring(ring, by_mm, corners)
    return settled(lambda hair_mm: _positive(hair_mm, raw))


def _positive(hair_mm: float, raw: list[Segment]) -> tuple[Region, ...]:
    """Where the raw rings wind clockwise at least once."""
    arrangement = Arrangement([raw], hair_mm)
    left, right = arrangement.windings(0) > 0
    return bounded(arrangement, left, right)


def _raw_ring(ring: Path, by_mm: float, corners: Corners) -> list[Segment]:
    """The ring moved to its left by ``by_mm`` (the paper is on its right), not yet cleaned."""
    raw: list[Segment] = []
    for before, after in zip(ring.segments, ring.segments[1:] + ring.segments[:1], strict=True):
        raw += _moved(before, by_mm)
        raw += _corner(before, after, by_mm, corners)
    return [s for s in raw if math.dist(s.start, s.end) > 0.0]


def _beside(point: Point, direction: Point, by_mm: float) -> Point:
    """The point moved to the left of the direction, as seen with y down."""
    return (point[0] + direction[1] * by_mm, point[1] - direction[0] * by_mm)


def _moved(segment: Segment, by_mm: float) -> list[Segment]:
    start = _beside(segment.start, direction_at(segment, 0.0), by_mm)
    end = _beside(segment.end, direction_at(segment, 1.0), by_mm)
    if isinstance(segment, Line):
        return [Line(start, end)]
    # The left of a clockwise arc is away from its centre.
    radius = segment.radius_mm + (by_mm if segment.clockwise else -by_mm)
    if radius > SNAP_MM:
        return [Arc(start, end, segment.centre, segment.clockwise)]
    # The strip reaches the centre, and no point beyond it is nearest to this arc.
    return [Line(start, segment.centre), Line(segment.centre, end)]


def _corner(before: Segment, after: Segment, by_mm: float, corners: Corners) -> list[Segment]:
    corner = before.end
    u, v = direction_at(before, 1.0), direction_at(after, 0.0)
    start, end = _beside(corner, u, by_mm), _beside(corner, v, by_mm)
    if math.dist(start, end) <= SNAP_MM:
        return [Line(start, end)]
    cross, dot = u[0] * v[1] - u[1] * v[0], u[0] * v[0] + u[1] * v[1]
    opens = cross > 0.0 if by_mm > 0.0 else cross < 0.0
    if not opens and not (abs(cross) < 1e-12 and dot < 0.0):
        return [Line(start, corner), Line(corner, end)]
    if corners == "rounded":
        return [Arc(start, end, corner, by_mm > 0.0)]
    # The mitre's tip is at by / cos(half the turn) from the corner.
    half_cos = math.sqrt(max(0.0, (1.0 + dot) / 2.0))
    if corners == "bevelled" or half_cos * MITRE_LIMIT < 1.0:
        return [Line(start, end)]
    tip = (
        corner[0] + (start[0] + end[0] - 2.0 * corner[0]) / (1.0 + dot),
        corner[1] + (start[1] + end[1] - 2.0 * corner[1]) / (1.0 + dot),
    )
    return [Line(start, tip), Line(tip, end)]
