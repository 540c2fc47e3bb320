"""Small helpers that flat drawings share: boxes, rings of areas, items moved to their place."""

from __future__ import annotations

from collections.abc import Iterable

import shapely
from shapely.geometry.base import BaseGeometry

from publisher.drawing.flat.board import Box, Span
from publisher.drawing.types import Fill, Item, Label, Stroke
from publisher.geometry.measure import path_bounds
from publisher.geometry.path import Line, Path, Point, polygon
from publisher.geometry.transform import translated


def span_path(span: Span) -> Path:
    return Path((Line(*span),), closed=False)


def span_box(span: Span) -> Box:
    (x1, y1), (x2, y2) = span
    return (min(x1, x2), min(y1, y2), max(x1, x2), max(y1, y2))


def points_box(points: Iterable[Point]) -> Box:
    """The box round some points."""
    all_points = list(points)
    xs, ys = [p[0] for p in all_points], [p[1] for p in all_points]
    return (min(xs), min(ys), max(xs), max(ys))


def area_box(geometry: BaseGeometry) -> Box:
    x0, y0, x1, y1 = geometry.bounds
    return (x0, y0, x1, y1)


def rings_of(area: BaseGeometry) -> tuple[Path, ...]:
    """Outer rings and holes of an area, for the even-odd rule."""
    rings: list[Path] = []
    for part in shapely.get_parts(area):
        if part.geom_type == "Polygon" and part.area > 0.01:
            for ring in (part.exterior, *part.interiors):
                rings.append(polygon([(x, y) for x, y in ring.coords[:-1]]))
    return tuple(sorted(rings, key=path_bounds))


def moved(item: Item, dx: float, dy: float) -> Item:
    """The same item elsewhere on paper."""
    if isinstance(item, Label):
        at = (item.at[0] + dx, item.at[1] + dy)
        return Label(item.text, at, item.size_pt, item.anchor, item.turn_deg, item.role, item.id)
    if isinstance(item, Stroke):
        return Stroke(item.role, tuple(translated(p, dx, dy) for p in item.paths), item.id)
    rings = tuple(translated(r, dx, dy) for r in item.rings)
    return Fill(item.role, rings, item.stock, item.shade, item.id, item.hatch_deg)
