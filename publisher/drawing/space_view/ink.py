"""From Shapely geometry to the paths of a display list."""

from __future__ import annotations

from itertools import pairwise

import shapely
from shapely.geometry.base import BaseGeometry

from publisher.drawing.space_view.camera import Array
from publisher.geometry.path import Line, Path, Point

_STRAIGHT_MM = 5e-4


def _path(coordinates: Array, closed: bool) -> Path:
    points = [(x, y) for x, y in coordinates.tolist()]
    return Path(tuple(Line(a, b) for a, b in pairwise(points)), closed)


def area_paths(area: BaseGeometry, shift: Point = (0.0, 0.0)) -> tuple[Path, ...]:
    """The rings of an area in a settled order and direction, needless points left out,
    moved by ``shift``."""
    paths: list[Path] = []
    for part in shapely.get_parts(shapely.normalize(shapely.simplify(area, _STRAIGHT_MM))):
        if part.geom_type == "Polygon" and not part.is_empty:
            for ring in (part.exterior, *part.interiors):
                paths.append(_path(shapely.get_coordinates(ring) + shift, closed=True))
    return tuple(paths)


def line_paths(lines: BaseGeometry, shift: Point = (0.0, 0.0)) -> tuple[Path, ...]:
    """The lines in a settled order and direction, moved by ``shift``."""
    paths = []
    for part in shapely.get_parts(shapely.normalize(shapely.simplify(lines, _STRAIGHT_MM))):
        points = shapely.get_coordinates(part)
        if len(points) > 1:
            closed = len(points) > 3 and bool((points[0] == points[-1]).all())
            paths.append(_path(points + shift, closed))
    return tuple(paths)
