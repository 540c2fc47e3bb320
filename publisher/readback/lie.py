"""How far in from edges what is cut, drawn, scored or glued within a piece lies, measured with
Shapely: along a line straight out from where it reaches farthest."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import combinations

import shapely
from shapely.geometry.base import BaseGeometry

from publisher.geometry.flatten import flattened
from publisher.geometry.measure import bounds_of, path_bounds
from publisher.geometry.path import Path
from publisher.model.types import Piece

_FAR_MM = 1e4
_STRIP_MM = 1e-6
_OFF_EDGE_MM = 2e-3  # a ray that ran along an edge would meet all of it


def places(piece: Piece) -> Iterator[float]:
    """From each side of each thing to the edge of its panel or of the piece, and between things
    that one line made."""
    outline = _ring(flattened(piece.outline.outer))
    panels = {panel.name: _ring(panel.ring) for panel in piece.panels}
    rows: dict[object, list[tuple[Path, ...]]] = {}
    for opening in piece.openings:
        rows.setdefault((opening.panel, opening.span), []).append((opening.path,))
    for mark in piece.marks:
        rows.setdefault((mark.panel, mark.span), []).append(mark.paths)
    for zone in piece.glue_zones:
        rows.setdefault((zone.panel, zone.name), []).append((zone.region.outer,))
    for score in piece.scores:
        rows.setdefault((None, score.name), []).append((score.path,))
    for key, things in rows.items():
        panel = key[0] if isinstance(key, tuple) else None
        edges = [outline, *([panels[panel]] if panel in panels else ())]
        together = tuple(path for paths in things for path in paths)
        for thing in (*things, together):
            yield from _to_edges(thing, edges)
        for one, other in combinations([_box(thing) for thing in things], 2):
            yield from (max(one[k], other[k]) - min(one[k + 2], other[k + 2]) for k in (0, 1))


def _ring(points: Iterable[tuple[float, float]]) -> BaseGeometry:
    return shapely.LinearRing(list(points))


def _box(paths: Sequence[Path]) -> tuple[float, float, float, float]:
    return bounds_of([path_bounds(path) for path in paths])


def _to_edges(paths: Sequence[Path], edges: Sequence[BaseGeometry]) -> Iterator[float]:
    box = _box(paths)
    lines = shapely.MultiLineString(
        [[*flattened(p), *([flattened(p)[0]] if p.closed else [])] for p in paths]
    )
    near = lines.bounds
    middle = ((box[0] + box[2]) / 2.0, (box[1] + box[3]) / 2.0)
    for side in range(4):
        k, out = side % 2, -1.0 if side < 2 else 1.0
        strip = list(near)
        strip[k], strip[k + 2] = near[side] - _STRIP_MM, near[side] + _STRIP_MM
        ring = shapely.box(strip[0], strip[1], strip[2], strip[3])
        parts = shapely.get_parts(shapely.intersection(lines, ring))
        longest = max(parts, key=lambda part: float(part.length))
        (there,) = shapely.get_coordinates(shapely.centroid(longest)).tolist()
        level = there[1 - k]
        level += max(-_OFF_EDGE_MM, min(_OFF_EDGE_MM, middle[1 - k] - level))
        ends = [[0.0, 0.0], [0.0, 0.0]]
        ends[0][k], ends[1][k] = box[side], box[side] + out * _FAR_MM
        ends[0][1 - k] = ends[1][1 - k] = level
        for edge in edges:
            met = shapely.intersection(shapely.LineString(ends), edge)
            if not met.is_empty:
                yield float(shapely.distance(met, shapely.Point(ends[0])))
