"""One corner of a ring rounded, bevelled or scooped, the rest of the ring left as it is."""

from __future__ import annotations

import math
from typing import Literal, TypeAlias

from publisher.geometry.path import Arc, Line, Path, Point, Segment
from publisher.geometry.segments import SNAP_MM, direction_at

CornerCut: TypeAlias = Literal["rounded", "bevelled", "scooped"]
CornerFault: TypeAlias = Literal["none", "curved", "too large"]
"""No corner there; one beside an arc; one whose sides are shorter than the cut."""

_NEAR_MM = 1e-5
_STRAIGHT = math.sin(math.radians(0.5))


def with_corner(ring: Path, corner: Point, how: CornerCut, size_mm: float) -> Path | CornerFault:
    """The closed ring with the corner at ``corner`` cut off, walked the same way.

    ``size_mm`` is the radius of the round (an arc that both sides touch, its ends
    r tan(turn / 2) from the corner) or of the scoop (an arc about the corner itself); for a
    bevel it is how far along each side the straight cut begins.
    """
    segments = ring.segments
    place = next((i for i, s in enumerate(segments) if _is_at(s.start, corner)), None)
    if place is None:
        return "none"
    before, after = segments[place - 1], segments[place]
    if not (isinstance(before, Line) and isinstance(after, Line)):
        return "curved"
    u, v = direction_at(before, 1.0), direction_at(after, 0.0)
    cross, dot = u[0] * v[1] - u[1] * v[0], u[0] * v[0] + u[1] * v[1]
    if abs(cross) < _STRAIGHT and dot > 0.0:
        return "none"
    reach = size_mm
    if how == "rounded":
        reach = size_mm * math.tan(abs(math.atan2(cross, dot)) / 2.0)
    if reach > min(before.length_mm, after.length_mm) + _NEAR_MM:
        return "too large"
    x, y = after.start
    a, b = (x - u[0] * reach, y - u[1] * reach), (x + v[0] * reach, y + v[1] * reach)
    cut = _cut(how, a, b, after.start, u, cross > 0.0, size_mm)
    return _put_in(ring, place, before, after, cut)


def reach_of(ring: Path, corner: Point) -> float:
    """The shorter of the two sides that meet at a corner, mm; 0 where there is none."""
    segments = ring.segments
    for i, segment in enumerate(segments):
        if _is_at(segment.start, corner):
            return min(segments[i - 1].length_mm, segment.length_mm)
    return 0.0


def corners_of(ring: Path) -> tuple[Point, ...]:
    """Where two straight sides meet at an angle, in the ring's order."""
    segments = ring.segments
    found = []
    for before, after in zip(segments[-1:] + segments[:-1], segments, strict=True):
        if isinstance(before, Line) and isinstance(after, Line):
            u, v = direction_at(before, 1.0), direction_at(after, 0.0)
            if abs(u[0] * v[1] - u[1] * v[0]) >= _STRAIGHT or u[0] * v[0] + u[1] * v[1] < 0.0:
                found.append(after.start)
    return tuple(found)


def _is_at(point: Point, corner: Point) -> bool:
    return math.dist(point, corner) <= _NEAR_MM


def _cut(
    how: CornerCut, a: Point, b: Point, corner: Point, u: Point, clockwise: bool, size_mm: float
) -> Segment:
    if how == "bevelled":
        return Line(a, b)
    if how == "scooped":
        return Arc(a, b, corner, not clockwise)
    side = 1.0 if clockwise else -1.0
    centre = (a[0] - u[1] * side * size_mm, a[1] + u[0] * side * size_mm)
    return Arc(a, b, centre, clockwise)


def _put_in(ring: Path, place: int, before: Line, after: Line, cut: Segment) -> Path:
    segments: list[Segment] = list(ring.segments)
    segments[place - 1] = Line(before.start, cut.start)
    segments[place] = Line(cut.end, after.end)
    segments.insert(place, cut)
    kept = [s for s in segments if math.dist(s.start, s.end) > SNAP_MM]
    return Path(tuple(kept), closed=True)
