"""From Shapely geometry to the paths of a display list, and items moved to their place."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from itertools import pairwise

import shapely
from shapely.geometry.base import BaseGeometry

from publisher.drawing.types import Fill, Item, Label
from publisher.geometry.path import Arc, Line, Path, Point, Segment

_STRAIGHT_MM = 5e-4


def _ring(coordinates: Iterable[tuple[float, ...]]) -> Path:
    points = [(float(c[0]), float(c[1])) for c in coordinates]
    closed = tuple(Line(a, b) for a, b in pairwise(points))
    return Path(closed, closed=True)


def area_paths(area: BaseGeometry) -> tuple[Path, ...]:
    """The rings of an area in a settled order and direction, needless points left out."""
    paths: list[Path] = []
    for part in shapely.get_parts(shapely.normalize(shapely.simplify(area, _STRAIGHT_MM))):
        if part.geom_type == "Polygon" and not part.is_empty:
            paths.append(_ring(part.exterior.coords))
            paths += [_ring(hole.coords) for hole in part.interiors]
    return tuple(paths)


def line_paths(lines: BaseGeometry) -> tuple[Path, ...]:
    """The lines in a settled order and direction."""
    paths = []
    for part in shapely.get_parts(shapely.normalize(shapely.simplify(lines, _STRAIGHT_MM))):
        points = [(float(c[0]), float(c[1])) for c in part.coords]
        closed = len(points) > 3 and points[0] == points[-1]
        segments = tuple(Line(a, b) for a, b in pairwise(points))
        if segments:
            paths.append(Path(segments, closed=closed))
    return tuple(paths)


def _moved_path(path: Path, dx: float, dy: float) -> Path:
    def at(p: Point) -> Point:
        return (p[0] + dx, p[1] + dy)

    def part(s: Segment) -> Segment:
        if isinstance(s, Arc):
            return Arc(at(s.start), at(s.end), at(s.centre), s.clockwise)
        return Line(at(s.start), at(s.end))

    return Path(tuple(part(s) for s in path.segments), path.closed)


def moved_item(item: Item, dx: float, dy: float) -> Item:
    """The same item elsewhere on paper."""
    if isinstance(item, Label):
        return replace(item, at=(item.at[0] + dx, item.at[1] + dy))
    if isinstance(item, Fill):
        return replace(item, rings=tuple(_moved_path(p, dx, dy) for p in item.rings))
    return replace(item, paths=tuple(_moved_path(p, dx, dy) for p in item.paths))
