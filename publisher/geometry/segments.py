"""Single segments: points along them, where two of them meet, pieces of them.

Line/line, line/circle and circle/circle meetings are the closed forms of analytic geometry.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from publisher.geometry.path import Arc, Line, Path, Point, Segment

SNAP_MM = 1e-6
"""Points closer than this are one point. A thousandth of the wavelength of light."""

_TANGENT_MM = 1e-7


def reversed_segment(segment: Segment) -> Segment:
    if isinstance(segment, Arc):
        return Arc(segment.end, segment.start, segment.centre, not segment.clockwise)
    return Line(segment.end, segment.start)


def reversed_path(path: Path) -> Path:
    """The same path walked the other way."""
    return Path(tuple(reversed_segment(s) for s in reversed(path.segments)), path.closed)


def with_ends(segment: Segment, start: Point, end: Point) -> Segment:
    """A stretch of the segment, or the segment with its ends moved by a hair.

    An arc of a few hairs whose ends changed places is a line: as an arc it would go all round.
    """
    if isinstance(segment, Arc):
        arc = Arc(start, end, segment.centre, segment.clockwise)
        if abs(arc.sweep_deg) <= abs(segment.sweep_deg) + 10.0:
            return arc
    return Line(start, end)


def point_at(segment: Segment, share: float) -> Point:
    """The point at ``share`` (0 to 1) of the segment's length."""
    if share <= 0.0:
        return segment.start
    if share >= 1.0:
        return segment.end
    if isinstance(segment, Arc):
        angle = math.radians(segment.start_deg + share * segment.sweep_deg)
        radius = segment.radius_mm
        return (
            segment.centre[0] + radius * math.cos(angle),
            segment.centre[1] + radius * math.sin(angle),
        )
    (x1, y1), (x2, y2) = segment.start, segment.end
    return (x1 + share * (x2 - x1), y1 + share * (y2 - y1))


def share_at(segment: Segment, point: Point) -> float:
    """How far along the segment a point on it lies, 0 at the start, 1 at the end."""
    if isinstance(segment, Arc):
        angle = math.degrees(math.atan2(point[1] - segment.centre[1], point[0] - segment.centre[0]))
        sweep = segment.sweep_deg
        along = angle - segment.start_deg if sweep > 0 else segment.start_deg - angle
        along %= 360.0
        # A hair before the start is just before 360: count it as before the start.
        if along > (abs(sweep) + 360.0) / 2.0:
            along -= 360.0
        return along / abs(sweep)
    (x1, y1), (x2, y2) = segment.start, segment.end
    dx, dy = x2 - x1, y2 - y1
    square = dx * dx + dy * dy
    return ((point[0] - x1) * dx + (point[1] - y1) * dy) / square if square > 0 else 0.0


def direction_at(segment: Segment, share: float) -> Point:
    """The unit direction of travel at ``share`` of the segment's length."""
    if isinstance(segment, Arc):
        angle = math.radians(segment.start_deg + share * segment.sweep_deg)
        sign = 1.0 if segment.clockwise else -1.0
        return (-math.sin(angle) * sign, math.cos(angle) * sign)
    length = segment.length_mm
    return (
        (segment.end[0] - segment.start[0]) / length,
        (segment.end[1] - segment.start[1]) / length,
    )


def nearest_on(segment: Segment, point: Point) -> Point:
    """The point of the segment that lies nearest."""
    if isinstance(segment, Arc):
        away = math.dist(point, segment.centre)
        if away > 0.0:
            k = segment.radius_mm / away
            foot = (
                segment.centre[0] + (point[0] - segment.centre[0]) * k,
                segment.centre[1] + (point[1] - segment.centre[1]) * k,
            )
            if 0.0 <= share_at(segment, foot) <= 1.0:
                return foot
        return min((segment.start, segment.end), key=lambda end: math.dist(end, point))
    return point_at(segment, share_at(segment, point))


def is_on(segment: Segment, point: Point, tolerance_mm: float = SNAP_MM) -> bool:
    """Whether the point lies on the segment, ends included."""
    if isinstance(segment, Arc):
        if abs(math.dist(point, segment.centre) - segment.radius_mm) > tolerance_mm:
            return False
        slack = tolerance_mm / max(segment.length_mm, tolerance_mm)
        return -slack <= share_at(segment, point) <= 1.0 + slack
    return math.dist(nearest_on(segment, point), point) <= tolerance_mm


def spanned(segment: Segment, p: Point) -> float:
    """The angle in radians that the segment spans as seen from p, positive clockwise."""
    ax, ay = segment.start[0] - p[0], segment.start[1] - p[1]
    bx, by = segment.end[0] - p[0], segment.end[1] - p[1]
    cross = ax * by - ay * bx
    angle = math.atan2(cross, ax * bx + ay * by)
    # A clockwise arc lies on the left of its chord, where the cross product is negative. The
    # sign of a zero decides here as it does in atan2, for points on the chord.
    if (
        isinstance(segment, Arc)
        and (math.copysign(1.0, cross) < 0.0) == segment.clockwise
        and math.dist(p, segment.centre) < segment.radius_mm
    ):
        angle += 2.0 * math.pi if segment.clockwise else -2.0 * math.pi
    return angle


def crossings(a: Segment, b: Segment, hair_mm: float = SNAP_MM) -> list[Point]:
    """Where two segments cross or touch; nothing where they run along each other."""
    if isinstance(a, Arc):
        found = _circle_circle(a, b) if isinstance(b, Arc) else _line_circle(b, a)
    else:
        found = _line_circle(a, b) if isinstance(b, Arc) else _line_line(a, b)
    return [p for p in found if is_on(a, p, hair_mm) and is_on(b, p, hair_mm)]


def _line_line(a: Line, b: Line) -> Sequence[Point]:
    ax, ay = a.end[0] - a.start[0], a.end[1] - a.start[1]
    bx, by = b.end[0] - b.start[0], b.end[1] - b.start[1]
    cross = ax * by - ay * bx
    if abs(cross) <= 1e-12 * a.length_mm * b.length_mm:
        return ()
    t = ((b.start[0] - a.start[0]) * by - (b.start[1] - a.start[1]) * bx) / cross
    return ((a.start[0] + t * ax, a.start[1] + t * ay),)


def _line_circle(line: Line, arc: Arc) -> Sequence[Point]:
    length = line.length_mm
    if length == 0.0:
        return ()
    ux, uy = (line.end[0] - line.start[0]) / length, (line.end[1] - line.start[1]) / length
    along = (arc.centre[0] - line.start[0]) * ux + (arc.centre[1] - line.start[1]) * uy
    foot = (line.start[0] + along * ux, line.start[1] + along * uy)
    away, radius = math.dist(foot, arc.centre), arc.radius_mm
    if abs(away - radius) <= _TANGENT_MM:
        return (foot,)
    if away > radius:
        return ()
    half = math.sqrt(radius * radius - away * away)
    return (
        (foot[0] - half * ux, foot[1] - half * uy),
        (foot[0] + half * ux, foot[1] + half * uy),
    )


def same_circle(a: Arc, b: Arc) -> bool:
    """Whether two arcs lie on one circle."""
    return math.dist(a.centre, b.centre) <= SNAP_MM and abs(a.radius_mm - b.radius_mm) <= SNAP_MM


def _circle_circle(a: Arc, b: Arc) -> Sequence[Point]:
    apart = math.dist(a.centre, b.centre)
    if apart <= SNAP_MM:
        return ()
    ra, rb = a.radius_mm, b.radius_mm
    ux, uy = (b.centre[0] - a.centre[0]) / apart, (b.centre[1] - a.centre[1]) / apart
    along = (apart * apart + ra * ra - rb * rb) / (2.0 * apart)
    foot = (a.centre[0] + along * ux, a.centre[1] + along * uy)
    if min(abs(apart - ra - rb), abs(apart - abs(ra - rb))) <= _TANGENT_MM:
        sign = math.copysign(ra, along)
        return ((a.centre[0] + sign * ux, a.centre[1] + sign * uy),)
    square = ra * ra - along * along
    if square < 0.0:
        return ()
    half = math.sqrt(square)
    return (
        (foot[0] - half * uy, foot[1] + half * ux),
        (foot[0] + half * uy, foot[1] - half * ux),
    )
