"""Which facets may cover each other on paper, and what their planes tell of who is nearer.

Most pairs are settled here, without an overlay: boxes that lie apart, paper that lies flat
beside paper, the two sides of a fold, planes of which one is nearer wherever both can be.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np
import numpy.typing as npt
import shapely
from msgspec import Struct

from publisher.drawing.space_view.apart import box_corners, boxes_meet
from publisher.drawing.space_view.camera import Array
from publisher.drawing.space_view.many import Geometries
from publisher.drawing.space_view.projected import Projected, maps_of
from publisher.drawing.space_view.shapes import PieceShape

DEPTH_MM = 1e-4  # nearer than this is lying on each other
_SAME_MM = 1e-7
_BESIDE_MM = 0.3  # so far from a fold it is asked which side of it is nearer

Numbers = npt.NDArray[np.intp]
Flags = npt.NDArray[np.bool_]


class Pairs(Struct, frozen=True):
    """Pairs of facets by their places, in order. ``gaps`` is by how much the first is nearer, as
    a x + b y + c of the place on paper; ``most`` and ``least`` bound it where both are, but
    for those ``unclear``, of which both may be nearer or neither."""

    first: Numbers
    second: Numbers
    gaps: Array
    most: Array
    least: Array
    unclear: Flags


class _Laid(Struct, frozen=True):
    """All facets in arrays: maps to paper (n, 2, 2) and (n, 2), planes (n, 3), bodies."""

    items: Sequence[Projected]
    areas: Geometries
    maps: Array
    shifts: Array
    planes: Array
    bodies: Numbers
    poses: Array  # (n, 9)


def facing_pairs(
    items: Sequence[Projected],
    areas: Geometries,
    ghosts: Flags,
    shapes: Mapping[str, PieceShape],
) -> Pairs:
    """The pairs that may cover each other. ``areas`` and ``ghosts`` are those of the items."""
    laid = _laid(items, areas)
    first, second = shapely.STRtree(areas).query(areas)
    wanted = (first < second) & ~(ghosts[first] & ghosts[second])
    first, second = first[wanted], second[wanted]
    order = np.lexsort((second, first))
    first, second = first[order], second[order]
    facets = [shapes[i.actor.piece.name].facets[i.actor.facet] for i in items]
    boxes = np.array([facet.bounds for facet in facets]).reshape(-1, 4)
    meet = boxes_meet(boxes, laid.maps, laid.shifts, first, second) & ~_beside(laid, first, second)
    first, second = first[meet], second[meet]

    gaps = laid.planes[first] - laid.planes[second]
    bounds = shapely.bounds(areas)
    most, least = _reach(gaps, bounds[first], bounds[second])
    corners = box_corners(boxes, laid.maps, laid.shifts)
    for side in (first, second):
        x, y = corners[side, :, 0], corners[side, :, 1]
        there = x * gaps[:, :1] + y * gaps[:, 1:2] + gaps[:, 2:]
        most, least = np.minimum(most, there.max(axis=1)), np.maximum(least, there.min(axis=1))
    unclear = ~((least > DEPTH_MM) | (most < -DEPTH_MM))
    kept = np.ones(len(first), dtype=bool)
    at, ends, turned = _folds(laid, shapes, first, second)
    kept[at[~turned]] = False  # the two sides of a fold that both show the same face
    at, ends = at[turned], ends[turned]
    over = _nearer(laid, first[at], second[at], gaps[at], ends)
    known = np.abs(over) > DEPTH_MM
    at, over = at[known], over[known]
    most[at], least[at], unclear[at] = np.maximum(over, 0.0), np.minimum(over, 0.0), False
    return Pairs(first[kept], second[kept], gaps[kept], most[kept], least[kept], unclear[kept])


def _laid(items: Sequence[Projected], areas: Geometries) -> _Laid:
    count: dict[tuple[str, bool], int] = {}
    bodies = [count.setdefault((i.actor.body, i.ghost), len(count)) for i in items]
    none = np.zeros(3)
    return _Laid(
        items,
        areas,
        np.array([i.matrix for i in items]).reshape(-1, 3, 2)[:, :2],
        np.array([i.shift for i in items]).reshape(-1, 3)[:, :2],
        np.array([none if i.plane is None else i.plane for i in items]).reshape(-1, 3),
        np.array(bodies, dtype=int),
        maps_of(items),
    )


def _beside(laid: _Laid, first: Numbers, second: Numbers) -> Flags:
    """Which pairs are facets of one body in one pose: they meet at most along a fold."""
    found = laid.bodies[first] == laid.bodies[second]
    at = np.flatnonzero(found)
    poses = laid.poses
    found[at] = np.abs(poses[first[at]] - poses[second[at]]).max(axis=1, initial=0.0) < 1e-9
    return np.asarray(found)


def _reach(gaps: Array, a: Array, b: Array) -> tuple[Array, Array]:
    """The greatest and least difference of nearness over the box that each pair shares."""
    low, high = np.maximum(a[:, :2], b[:, :2]), np.minimum(a[:, 2:], b[:, 2:])
    corners = [
        gaps[:, 0] * x[:, 0] + gaps[:, 1] * y[:, 1] + gaps[:, 2]
        for x in (low, high)
        for y in (low, high)
    ]
    return np.max(corners, axis=0), np.min(corners, axis=0)


def _folds(
    laid: _Laid, shapes: Mapping[str, PieceShape], first: Numbers, second: Numbers
) -> tuple[Numbers, Array, Flags]:
    """The pairs that a fold joins of which nothing reaches over its line: their places, that
    line on paper (n, 2, 2) with the first of the pair on its right (y down), and whether the
    other lies there, too, turned over."""
    found: list[int] = []
    lines = []
    same = np.flatnonzero(laid.bodies[first] == laid.bodies[second])
    for k, i, j in zip(same.tolist(), first[same].tolist(), second[same].tolist(), strict=True):
        a, b = laid.items[i], laid.items[j]
        hinge = shapes[a.actor.piece.name].parted.get((a.actor.facet, b.actor.facet))
        if hinge is not None:
            found.append(k)
            right = (hinge.parent == a.actor.facet) == (a.face == "front")
            lines.append((hinge.start, hinge.end) if right else (hinge.end, hinge.start))
    at = np.array(found, dtype=int)
    flat = np.array(lines).reshape(-1, 2, 2)
    i, j = first[at], second[at]
    ends = flat @ np.swapaxes(laid.maps[i], 1, 2) + laid.shifts[i][:, None]
    there = flat @ np.swapaxes(laid.maps[j], 1, 2) + laid.shifts[j][:, None]
    joined = np.abs(ends - there).max(axis=(1, 2), initial=0.0) < _SAME_MM
    front = np.array([item.face == "front" for item in laid.items], dtype=bool)
    return at[joined], ends[joined], (front[i] != front[j])[joined]


def _nearer(laid: _Laid, first: Numbers, second: Numbers, gaps: Array, ends: Array) -> Array:
    """By how much the first is nearer where both sides of a fold lie on its right, close to its
    middle; 0 where not both are found there."""
    run = ends[:, 1] - ends[:, 0]
    aside = np.stack((-run[:, 1], run[:, 0]), axis=1) / np.hypot(run[:, 0], run[:, 1])[:, None]
    x, y = (ends.mean(axis=1) + aside * _BESIDE_MM).T
    both = shapely.contains_xy(laid.areas[first], x, y)
    both &= shapely.contains_xy(laid.areas[second], x, y)
    return np.where(both, x * gaps[:, 0] + y * gaps[:, 1] + gaps[:, 2], 0.0)
