"""Stretches of straight lines, as parts of their length."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np
import shapely
from shapely import LineString
from shapely.geometry.base import BaseGeometry

from publisher.drawing.space_view.many import many

SHORTEST_MM = 0.05
Interval = tuple[float, float]


def spans(lines: Sequence[LineString], areas: Sequence[BaseGeometry]) -> list[list[Interval]]:
    """Where each straight line runs within the area of the same place, as parts of its
    length."""
    found: list[list[Interval]] = [[] for _ in lines]
    if not lines:
        return found
    ends = shapely.get_coordinates(many(lines)).reshape(-1, 2, 2)
    run = ends[:, 1] - ends[:, 0]
    squares = (run**2).sum(axis=1)
    # where each line, made endless, goes through a ring: in, out, in, out
    parts, of_part = shapely.get_parts(many(areas), return_index=True)
    rings, of_ring = shapely.get_rings(parts, return_index=True)
    points, ring = shapely.get_coordinates(rings, return_index=True)
    line = of_part[of_ring[ring]]
    x, y = (points - ends[line, 0]).T
    ways = run[line]
    aside, ahead = ways[:, 0] * y - ways[:, 1] * x, ways[:, 0] * x + ways[:, 1] * y
    left = aside >= 0
    at = np.flatnonzero((left[1:] != left[:-1]) & (ring[1:] == ring[:-1]))
    part = aside[at] / (aside[at] - aside[at + 1])
    line = line[at]
    along = (ahead[at] + (ahead[at + 1] - ahead[at]) * part) / squares[line]
    order = np.lexsort((along, line))
    low, high = np.clip(along[order].reshape(-1, 2), 0.0, 1.0).T
    of = line[order][::2]
    long = (high - low) * np.sqrt(squares[of]) > SHORTEST_MM
    kept = zip(of[long].tolist(), low[long].tolist(), high[long].tolist(), strict=True)
    for k, start, end in kept:
        found[k].append((start, end))
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


def pieces(
    lines: Sequence[LineString], wanted: Sequence[tuple[int, list[Interval], float]]
) -> list[BaseGeometry | None]:
    """Stretches of straight lines: for each wanted (line's place, stretches, how far they stop
    short of the line's ends) one geometry, None where nothing is left."""
    ends = shapely.get_coordinates(many(lines)).reshape(-1, 2, 2)
    lengths = shapely.length(many(lines)).tolist()
    kept: list[Interval] = []
    place: list[int] = []
    of: list[int] = []
    for job, (at, stretches, gap_mm) in enumerate(wanted):
        length = lengths[at]
        gap = min(gap_mm / length, 0.25) if length > 0 else 0.0
        for start, end in stretches:
            low, high = max(start, gap), min(end, 1.0 - gap)
            if (high - low) * length > SHORTEST_MM:
                kept.append((low, high))
                place.append(at)
                of.append(job)
    found: list[BaseGeometry | None] = [None] * len(wanted)
    if kept:
        begin, run = ends[place, :1], ends[place, 1:] - ends[place, :1]
        parts = shapely.linestrings(begin + run * np.array(kept)[:, :, None])
        jobs, at_job = np.unique(of, return_inverse=True)
        together = shapely.multilinestrings(parts, indices=at_job)
        for job, geometry in zip(jobs.tolist(), together, strict=True):
            found[job] = geometry
    return found
