"""Hatches and dots as real geometry, so that every reader draws the same and it prints well."""

from __future__ import annotations

import math
from collections.abc import Sequence

import shapely
from shapely.geometry.base import BaseGeometry

from publisher.geometry.flatten import flattened
from publisher.geometry.path import Line, Path, Point, circle, polygon

_TOLERANCE_MM = 0.02


def area_of(rings: Sequence[Path]) -> BaseGeometry:
    """What the rings cover by the even-odd rule, arcs as chords within 0.02 mm."""
    area: BaseGeometry = shapely.Polygon()
    for ring in rings:
        points = flattened(ring, _TOLERANCE_MM)
        if len(points) >= 3:
            area = area.symmetric_difference(shapely.make_valid(shapely.Polygon(points)))
    return area


def hatch_lines(rings: Sequence[Path], spacing_mm: float, turn_deg: float) -> tuple[Line, ...]:
    """Parallel segments inside the rings, ``spacing_mm`` apart.

    ``turn_deg`` 0 runs left to right, 45 rises to the right. The lines pass at multiples of
    the spacing from the drawing's origin, so that neighbouring areas hatch alike and nothing
    depends on where an area begins. Pieces shorter than 0.05 mm are left out.
    """
    area = area_of(rings)
    if area.is_empty or spacing_mm <= 0:
        return ()
    turn = math.radians(-turn_deg)
    along = (math.cos(turn), math.sin(turn))
    across = (-along[1], along[0])
    x0, y0, x1, y1 = area.bounds
    corners = ((x0, y0), (x1, y0), (x1, y1), (x0, y1))
    offsets = [x * across[0] + y * across[1] for x, y in corners]
    reaches = [x * along[0] + y * along[1] for x, y in corners]
    first = math.ceil(min(offsets) / spacing_mm + 0.5 - 1e-9)
    last = math.floor(max(offsets) / spacing_mm + 0.5 + 1e-9)
    lines: list[Line] = []
    for count in range(first, last + 1):
        offset = (count - 0.5) * spacing_mm

        def at(reach: float, offset: float = offset) -> Point:
            return (
                along[0] * reach + across[0] * offset,
                along[1] * reach + across[1] * offset,
            )

        ray = shapely.LineString([at(min(reaches) - 1.0), at(max(reaches) + 1.0)])
        lines += _segments(shapely.intersection(ray, area))
    return tuple(lines)


def _segments(found: BaseGeometry) -> list[Line]:
    parts = [g for g in shapely.get_parts(found) if g.geom_type == "LineString" and not g.is_empty]
    ends = [(g.coords[0], g.coords[-1]) for g in parts]
    lines = [Line((a[0], a[1]), (b[0], b[1])) for a, b in ends]
    return sorted(
        (line for line in lines if line.length_mm >= 0.05), key=lambda s: (s.start, s.end)
    )


def dot_paths(rings: Sequence[Path], spacing_mm: float, radius_mm: float) -> tuple[Path, ...]:
    """Dots in rows, each row shifted by half a step; dots at the edge are cut by it."""
    area = area_of(rings)
    if area.is_empty or spacing_mm <= 0:
        return ()
    row_mm = spacing_mm * math.sqrt(3.0) / 2.0
    x0, y0, x1, y1 = area.bounds
    centres: list[Point] = []
    for row in range(math.floor((y0 - radius_mm) / row_mm), math.ceil((y1 + radius_mm) / row_mm)):
        shift = spacing_mm / 2.0 if row % 2 else 0.0
        first = math.floor((x0 - radius_mm - shift) / spacing_mm)
        last = math.ceil((x1 + radius_mm - shift) / spacing_mm)
        centres += [
            (column * spacing_mm + shift, row * row_mm) for column in range(first, last + 1)
        ]
    if not centres:
        return ()
    places = shapely.points(centres)
    inside = shapely.contains_properly(area, places)
    away = shapely.distance(area.boundary, places)
    dots: list[Path] = []
    for centre, is_inside, distance in zip(centres, inside, away, strict=True):
        if is_inside and distance >= radius_mm:
            dots.append(circle(centre, radius_mm))
        elif distance < radius_mm:
            disc = shapely.Point(centre).buffer(radius_mm, quad_segs=8)
            dots += _outlines(area.intersection(disc))
    return tuple(dots)


def _outlines(found: BaseGeometry) -> list[Path]:
    parts = [g for g in shapely.get_parts(found) if g.geom_type == "Polygon" and g.area > 0.01]
    rings = [[(x, y) for x, y in g.exterior.coords[:-1]] for g in parts]
    return [polygon(ring) for ring in sorted(rings)]
