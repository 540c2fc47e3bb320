"""Exact bounds, areas and lengths of paths with arcs."""

from __future__ import annotations

import math

from publisher.geometry.path import Arc, Path, Point

Bounds = tuple[float, float, float, float]


def _arc_extremes(arc: Arc) -> list[Point]:
    points = [arc.start, arc.end]
    start, sweep, radius = arc.start_deg, arc.sweep_deg, arc.radius_mm
    for quarter in range(4):
        angle = quarter * 90.0
        along = (angle - start) % 360.0 if sweep > 0 else (start - angle) % 360.0
        if 0.0 < along < abs(sweep):
            turn = math.radians(angle)
            points.append(
                (arc.centre[0] + radius * math.cos(turn), arc.centre[1] + radius * math.sin(turn))
            )
    return points


def path_bounds(path: Path) -> Bounds:
    """x_min, y_min, x_max, y_max, arcs taken exactly."""
    points: list[Point] = []
    for segment in path.segments:
        if isinstance(segment, Arc):
            points.extend(_arc_extremes(segment))
        else:
            points.extend((segment.start, segment.end))
    xs = [p[0] for p in points]
    ys = [p[1] for p in points]
    return (min(xs), min(ys), max(xs), max(ys))


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
