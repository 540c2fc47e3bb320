"""How far in from edges what is cut, drawn, scored or glued within a piece lies, measured with
Shapely: along a line straight out from where it reaches farthest."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import combinations

import numpy as np
import shapely
from numpy.typing import NDArray
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
    asked: list[tuple[tuple[Path, ...], BaseGeometry]] = []
    for key, things in rows.items():
        panel = key[0] if isinstance(key, tuple) else None
        edges = [outline, *([panels[panel]] if panel in panels else ())]
        together = tuple(path for paths in things for path in paths)
        asked += [(thing, edge) for thing in (*things, together) for edge in edges]
        for one, other in combinations([_box(thing) for thing in things], 2):
            yield from (max(one[k], other[k]) - min(one[k + 2], other[k + 2]) for k in (0, 1))
    if asked:
        yield from _to_edges(asked)


def _ring(points: Iterable[tuple[float, float]]) -> BaseGeometry:
    return shapely.LinearRing(list(points))


def _box(paths: Sequence[Path]) -> tuple[float, float, float, float]:
    return bounds_of([path_bounds(path) for path in paths])


def _to_edges(asked: Sequence[tuple[Sequence[Path], BaseGeometry]]) -> Iterator[float]:
    """From each of the four sides of each thing straight out to an edge, all asked at once."""
    boxes = np.array([_box(paths) for paths, _ in asked])
    lines = np.array([_lines(paths) for paths, _ in asked])
    near = shapely.bounds(lines)
    middles = (boxes[:, :2] + boxes[:, 2:]) / 2.0
    rays, edges = [], []
    for side in range(4):
        k, out = side % 2, -1.0 if side < 2 else 1.0
        strips = near.copy()
        strips[:, k], strips[:, k + 2] = near[:, side] - _STRIP_MM, near[:, side] + _STRIP_MM
        level = _longest(shapely.intersection(lines, shapely.box(*strips.T)))[:, 1 - k]
        level += np.clip(middles[:, 1 - k] - level, -_OFF_EDGE_MM, _OFF_EDGE_MM)
        ends = np.empty((len(asked), 2, 2))
        ends[:, 0, k], ends[:, 1, k] = boxes[:, side], boxes[:, side] + out * _FAR_MM
        ends[:, :, 1 - k] = level[:, None]
        rays.append(ends)
        edges += [edge for _, edge in asked]
    reach = np.concatenate(rays)
    met = shapely.intersection(shapely.linestrings(reach), np.array(edges))
    far = shapely.distance(met, shapely.points(reach[:, 0]))
    yield from far[~np.isnan(far)].tolist()


def _lines(paths: Sequence[Path]) -> BaseGeometry:
    walked = [(flattened(path), path.closed) for path in paths]
    return shapely.MultiLineString(
        [[*pts, *([pts[0]] if closed else [])] for pts, closed in walked]
    )


def _longest(found: NDArray[np.object_]) -> NDArray[np.float64]:
    """The middle of the longest part of each."""
    parts, whose = shapely.get_parts(found, return_index=True)
    order = np.lexsort((-shapely.length(parts), whose))
    _, first = np.unique(whose[order], return_index=True)
    middles: NDArray[np.float64] = shapely.get_coordinates(shapely.centroid(parts[order][first]))
    return middles
