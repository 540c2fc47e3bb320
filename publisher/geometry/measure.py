"""Exact bounds, areas, balance and distances of paths and regions with arcs."""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import lru_cache

from publisher.geometry.path import Arc, Line, Path, Point, Region, Segment
from publisher.geometry.segments import SNAP_MM, nearest_on, spanned

Bounds = tuple[float, float, float, float]

_QUARTERS = ((1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0))
"""Where a circle reaches furthest, from 0 degrees on by quarters."""


def _arc_bounds(arc: Arc) -> Bounds:
    (ax, ay), (bx, by), (x, y) = arc.start, arc.end, arc.centre
    left, right = (ax, bx) if ax < bx else (bx, ax)
    top, bottom = (ay, by) if ay < by else (by, ay)
    # As ``sweep_deg`` has it, with each direction asked for once.
    start = math.degrees(math.atan2(ay - y, ax - x))
    turn = (math.degrees(math.atan2(by - y, bx - x)) - start) % 360.0
    turn = 360.0 if turn < 1e-9 else turn
    sweep = turn if arc.clockwise else turn - 360.0
    radius = math.dist(arc.start, arc.centre)
    for quarter, (across, down) in enumerate(_QUARTERS):
        along = 90.0 * quarter - start if sweep > 0 else start - 90.0 * quarter
        if 0.0 < along % 360.0 < abs(sweep):
            px, py = x + radius * across, y + radius * down
            left, right = min(left, px), max(right, px)
            top, bottom = min(top, py), max(bottom, py)
    return (left, top, right, bottom)


def segment_bounds(segment: Segment) -> Bounds:
    """x_min, y_min, x_max, y_max, an arc taken exactly."""
    if isinstance(segment, Arc):
        return _arc_bounds(segment)
    (ax, ay), (bx, by) = segment.start, segment.end
    return (min(ax, bx), min(ay, by), max(ax, bx), max(ay, by))


def path_bounds(path: Path) -> Bounds:
    """x_min, y_min, x_max, y_max, arcs taken exactly."""
    return bounds_of([segment_bounds(segment) for segment in path.segments])


def bounds_of(boxes: Sequence[Bounds]) -> Bounds:
    """The bounds of several bounds, of which there must be one at least."""
    return (
        min(b[0] for b in boxes),
        min(b[1] for b in boxes),
        max(b[2] for b in boxes),
        max(b[3] for b in boxes),
    )


def bounds_meet(a: Bounds, b: Bounds, within_mm: float = 0.0) -> bool:
    """Whether two boxes touch, or are no farther apart than this both across and down."""
    return (
        a[0] - within_mm <= b[2]
        and b[0] - within_mm <= a[2]
        and a[1] - within_mm <= b[3]
        and b[1] - within_mm <= a[3]
    )


@lru_cache(maxsize=4096)
def outline_bounds(path: Path) -> Bounds:
    """The same, remembered: an outline is asked once for each point that is laid somewhere."""
    return path_bounds(path)


def signed_area(path: Path) -> float:
    """Area of a closed path in mm2, arcs exact; positive clockwise as seen (y down)."""
    total = 0.0
    for segment in path.segments:
        (x1, y1), (x2, y2) = segment.start, segment.end
        total += (x1 * y2 - x2 * y1) / 2.0
        if isinstance(segment, Arc):
            sweep = math.radians(segment.sweep_deg)
            total += segment.radius_mm**2 * (sweep - math.sin(sweep)) / 2.0
    return total


@lru_cache(maxsize=4096)
def _enclosed(ring: Path) -> float:
    """Remembered: a piece with hundreds of holes is asked after each of them."""
    return abs(signed_area(ring))


def area(region: Region) -> float:
    """Area of the paper in mm2, holes taken off, arcs exact."""
    return _enclosed(region.outer) - sum(map(_enclosed, region.holes))


def centroid(region: Region) -> Point:
    """Where the region balances. Green's theorem, arcs exact by their circular segments."""
    total = sum_x = sum_y = 0.0
    for ring, sign in ((region.outer, 1.0), *((h, -1.0) for h in region.holes)):
        ring_area, x, y = _moments(ring)
        turn = sign if ring_area >= 0.0 else -sign
        total += turn * ring_area
        sum_x += turn * x
        sum_y += turn * y
    return (sum_x / total, sum_y / total)


def _moments(ring: Path) -> tuple[float, float, float]:
    total = sum_x = sum_y = 0.0
    for segment in ring.segments:
        (x1, y1), (x2, y2) = segment.start, segment.end
        cross = (x1 * y2 - x2 * y1) / 2.0
        total += cross
        sum_x += cross * (x1 + x2) / 3.0
        sum_y += cross * (y1 + y2) / 3.0
        if isinstance(segment, Arc):
            # A circular segment balances 4 r sin^3(t/2) / (3 (t - sin t)) from its centre.
            sweep, radius = math.radians(segment.sweep_deg), segment.radius_mm
            part = radius**2 * (sweep - math.sin(sweep)) / 2.0
            if part == 0.0:
                continue
            reach = 4.0 * radius * math.sin(sweep / 2.0) ** 3 / (3.0 * (sweep - math.sin(sweep)))
            middle = math.radians(segment.start_deg) + sweep / 2.0
            total += part
            sum_x += part * (segment.centre[0] + reach * math.cos(middle))
            sum_y += part * (segment.centre[1] + reach * math.sin(middle))
    return total, sum_x, sum_y


def distance_to_path(point: Point, path: Path) -> float:
    """The shortest way from a point to a path, in mm."""
    return min(math.dist(point, nearest_on(s, point)) for s in path.segments)


def is_near(point: Point, path: Path, within_mm: float) -> bool:
    """Whether the path passes the point at this distance or less."""
    x, y = point
    for segment in path.segments:
        if isinstance(segment, Line):
            (ax, ay), (bx, by) = segment.start, segment.end
            if not (min(ax, bx) - within_mm <= x <= max(ax, bx) + within_mm):
                continue
            if not (min(ay, by) - within_mm <= y <= max(ay, by) + within_mm):
                continue
        if math.dist(point, nearest_on(segment, point)) <= within_mm:
            return True
    return False


def winding(point: Point, ring: Path) -> int:
    """How often a closed path goes round a point, clockwise counted positive."""
    return round(sum(spanned(s, point) for s in ring.segments) / (2.0 * math.pi))


def is_inside(region: Region, point: Point, edge_mm: float = SNAP_MM) -> bool:
    """Whether a point lies on the paper; its edge (within ``edge_mm``) belongs to it."""
    if any(distance_to_path(point, r) <= edge_mm for r in (region.outer, *region.holes)):
        return True
    return winding(point, region.outer) != 0 and all(winding(point, h) == 0 for h in region.holes)


def distance_inside(region: Region, point: Point) -> float:
    """How far from the nearest edge a point lies: positive on the paper, negative off it."""
    away = min(distance_to_path(point, r) for r in (region.outer, *region.holes))
    return away if is_inside(region, point, edge_mm=0.0) else -away
