"""Regions as Shapely polygons, for what may be answered on chords."""

from __future__ import annotations

from shapely.geometry import LineString, Polygon

from publisher.geometry.flatten import flattened
from publisher.geometry.path import Path, Region


def to_shapely(region: Region, tolerance_mm: float = 0.01) -> Polygon:
    """The region as a polygon; chords lie inside their arcs within ``tolerance_mm``."""
    return Polygon(
        flattened(region.outer, tolerance_mm),
        [flattened(hole, tolerance_mm) for hole in region.holes],
    )


def path_to_shapely(path: Path, tolerance_mm: float = 0.01) -> LineString:
    """The path as a line string; a closed path returns to its start."""
    points = flattened(path, tolerance_mm)
    return LineString([*points, points[0]] if path.closed else points)
