"""Hatches and dots as real geometry, so that every reader draws the same and it prints well."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
import shapely
from msgspec import Struct
from shapely.geometry.base import BaseGeometry

from publisher.geometry.flatten import flattened
from publisher.geometry.path import Line, Path, Point, polygon

_TOLERANCE_MM = 0.02
_SHORTEST_MM = 0.05
_LEAST_MM2 = 0.01
_RIM = 16  # corners of a dot that an edge cuts

Plane = tuple[float, float, float, float, float, float]
"""Where the point (x, y) of a plane lies: (a x + b y + e, c x + d y + f) for (a, b, c, d, e, f)."""
LEVEL: Plane = (1.0, 0.0, 0.0, 1.0, 0.0, 0.0)


def area_of(rings: Sequence[Path]) -> BaseGeometry:
    """What the rings cover by the even-odd rule, arcs as chords within 0.02 mm."""
    area: BaseGeometry = shapely.Polygon()
    for ring in rings:
        points = flattened(ring, _TOLERANCE_MM)
        if len(points) >= 3:
            part = shapely.make_valid(shapely.Polygon(points))
            area = part if area.is_empty else shapely.symmetric_difference(area, part)
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
    along = np.array((math.cos(turn), math.sin(turn)))
    across = np.array((-along[1], along[0]))
    x0, y0, x1, y1 = area.bounds
    corners = np.array(((x0, y0), (x1, y0), (x1, y1), (x0, y1)))
    offsets, reaches = corners @ across, corners @ along
    first = math.ceil(float(offsets.min()) / spacing_mm + 0.5 - 1e-9)
    last = math.floor(float(offsets.max()) / spacing_mm + 0.5 + 1e-9)
    feet = (np.arange(first, last + 1)[:, None] - 0.5) * spacing_mm * across
    low, high = reaches.min() - 1.0, reaches.max() + 1.0
    rays = shapely.linestrings(np.stack((feet + along * low, feet + along * high), axis=1))
    parts, owners = shapely.get_parts(shapely.intersection(rays, area), return_index=True)
    lines: list[tuple[int, Point, Point]] = []
    for part, owner in zip(parts, owners.tolist(), strict=True):
        if shapely.get_num_coordinates(part) == 2:
            start, end = shapely.get_coordinates(part).tolist()
            lines.append((owner, (start[0], start[1]), (end[0], end[1])))
    found = [Line(start, end) for _, start, end in sorted(lines)]
    return tuple(line for line in found if line.length_mm >= _SHORTEST_MM)


class Dots(Struct, frozen=True):
    """``centres`` of the dots that show whole, and the ``cut`` outlines of those that an edge
    cuts. A whole dot is the circle of ``radius_mm`` carried by ``plane``."""

    centres: tuple[Point, ...]
    cut: tuple[Path, ...]
    radius_mm: float
    plane: Plane

    @property
    def axes(self) -> tuple[float, float, float]:
        """Half axes of a whole dot on the drawing, long one first, and the direction of the
        long one in degrees, clockwise from the right (singular values of the plane's map)."""
        a, b, c, d, _, _ = self.plane
        ways, sizes, _ = np.linalg.svd(np.array(((a, b), (c, d))))
        turn = math.degrees(math.atan2(ways[1, 0], ways[0, 0])) % 180.0
        return self.radius_mm * float(sizes[0]), self.radius_mm * float(sizes[1]), turn


def dots_in(
    rings: Sequence[Path], spacing_mm: float, radius_mm: float, plane: Plane = LEVEL
) -> Dots:
    """Dots in rows, each row shifted by half a step; dots at the edge are cut by it.

    ``plane`` carries the repeat onto the drawing; spacing and radius are measured on it.
    """
    area = area_of(rings)
    a, b, c, d, e, f = plane
    whole = a * d - b * c
    if area.is_empty or spacing_mm <= 0 or abs(whole) < 1e-9:
        return Dots((), (), radius_mm, plane)
    there = np.array(((a, c), (b, d)))
    back = np.array(((d, -c), (-b, a))) / whole
    flat = (shapely.get_coordinates(area) - (e, f)) @ back
    (x0, y0), (x1, y1) = flat.min(axis=0) - radius_mm, flat.max(axis=0) + radius_mm
    row_mm = spacing_mm * math.sqrt(3.0) / 2.0
    rows = np.arange(math.floor(y0 / row_mm), math.ceil(y1 / row_mm) + 1)
    columns = np.arange(math.floor(x0 / spacing_mm) - 1, math.ceil(x1 / spacing_mm) + 1)
    x = (columns[None, :] + 0.5 * (rows % 2)[:, None]) * spacing_mm
    y = np.broadcast_to((rows * row_mm)[:, None], x.shape)
    centres = np.column_stack((x.ravel(), y.ravel()))

    turn = np.linspace(0.0, 2.0 * math.pi, _RIM, endpoint=False)
    rim = np.column_stack((np.cos(turn), np.sin(turn))) * radius_mm
    outlines = shapely.polygons((centres[:, None, :] + rim) @ there + (e, f))
    shapely.prepare(area)
    inside = shapely.contains_properly(area, outlines)
    crossed = shapely.intersects(area, outlines) & ~inside
    parts = shapely.get_parts(shapely.intersection(outlines[crossed], area))
    kept = parts[(shapely.get_type_id(parts) == 3) & (shapely.area(parts) > _LEAST_MM2)]
    cut = sorted(
        [(x, y) for x, y in shapely.get_coordinates(ring)[:-1].tolist()]
        for ring in shapely.get_exterior_ring(kept)
    )
    placed = (centres[inside] @ there + (e, f)).tolist()
    return Dots(tuple((x, y) for x, y in placed), tuple(map(polygon, cut)), radius_mm, plane)
