"""Arcs as chords."""

from __future__ import annotations

import math

from publisher.geometry.path import Arc, Path, Point


def arc_points(arc: Arc, tolerance_mm: float) -> list[Point]:
    """Points along the arc from its start, its end left out; chords stay within tolerance."""
    radius, sweep = arc.radius_mm, math.radians(arc.sweep_deg)
    reach = max(-1.0, 1.0 - tolerance_mm / radius) if radius > 0 else -1.0
    step = 2.0 * math.acos(reach)
    count = max(2, math.ceil(abs(sweep) / step - 1e-9))
    start = math.radians(arc.start_deg)
    points = [arc.start]
    for i in range(1, count):
        angle = start + sweep * i / count
        points.append(
            (arc.centre[0] + radius * math.cos(angle), arc.centre[1] + radius * math.sin(angle))
        )
    return points


def flattened(path: Path, tolerance_mm: float = 0.01) -> list[Point]:
    """The path's points with arcs as chords (inside the arc) within ``tolerance_mm``.

    A closed path's first point is not repeated; an open path's last point is there.
    """
    points: list[Point] = []
    for segment in path.segments:
        if isinstance(segment, Arc):
            points.extend(arc_points(segment, tolerance_mm))
        else:
            points.append(segment.start)
    if not path.closed:
        points.append(path.end)
    return points
