"""Stretches of straight lines, as parts of their length."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np
import shapely
from shapely import LineString, MultiLineString
from shapely.geometry.base import BaseGeometry

from publisher.drawing.space_view.many import many

SHORTEST_MM = 0.05
Interval = tuple[float, float]
_NO_LINES = MultiLineString()


def spans(lines: Sequence[LineString], areas: Sequence[BaseGeometry]) -> list[list[Interval]]:
    """Where each straight line runs within the area of the same place, as parts of its
    length."""
    found: list[list[Interval]] = [[] for _ in lines]
    if not lines:
        return found
    ends = shapely.get_coordinates(many(lines)).reshape(-1, 2, 2)
    run = ends[:, 1] - ends[:, 0]
    length = np.hypot(run[:, 0], run[:, 1])
    inside = shapely.intersection(many(lines), many(areas))
    parts, line = shapely.get_parts(inside, return_index=True)
    points, part = shapely.get_coordinates(parts, return_index=True)
    of = line[part]
    along = ((points - ends[of, 0]) * run[of]).sum(axis=1) / length[of] ** 2
    low, high = np.full(len(parts), np.inf), np.full(len(parts), -np.inf)
    np.minimum.at(low, part, along)
    np.maximum.at(high, part, along)
    for k in np.lexsort((low, line)):
        if (high[k] - low[k]) * length[line[k]] > SHORTEST_MM:
            found[line[k]].append((float(low[k]), float(high[k])))
    return found


def both(a: list[Interval], b: list[Interval]) -> list[Interval]:
    return [
        (max(x[0], y[0]), min(x[1], y[1]))
        for x in a
        for y in b
        if max(x[0], y[0]) < min(x[1], y[1])
    ]


def without(a: list[Interval], b: list[Interval]) -> list[Interval]:
    left = a
    for low, high in b:
        rest = []
        for start, end in left:
            if low > start:
                rest.append((start, min(end, low)))
            if high < end:
                rest.append((max(start, high), end))
        left = [(s, e) for s, e in rest if e > s]
    return left


def joined(lines: Any) -> BaseGeometry:
    """Many lines as one geometry; faster than from their points one by one."""
    found: BaseGeometry = shapely.multilinestrings(lines)
    return found


def pieces(line: LineString, spans: list[Interval], gap_mm: float = 0.0) -> BaseGeometry:
    if not spans:
        return _NO_LINES
    length = line.length
    gap = min(gap_mm / length, 0.25) if length > 0 else 0.0
    cut = [(max(s, gap), min(e, 1.0 - gap)) for s, e in spans]
    kept = [span for span in cut if (span[1] - span[0]) * length > SHORTEST_MM]
    if not kept:
        return _NO_LINES
    start, end = shapely.get_coordinates(line)[[0, -1]]
    along = np.array(kept)[:, :, None]
    return joined(shapely.linestrings(start + (end - start) * along))
