"""Which paper stands between points in space and the viewer: rays through flat facets."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np
import numpy.typing as npt
import shapely
from msgspec import Struct

from publisher.drawing.space_view.camera import Array, Camera, View
from publisher.drawing.space_view.many import many
from publisher.drawing.space_view.shapes import PieceShape
from publisher.drawing.space_view.stage import Actor

LYING_MM = 3.0  # parallel paper that is nearer lies on what it hides
PARALLEL = 0.99
_AHEAD_MM = 0.05

Flags = npt.NDArray[np.bool_]


class Spots(Struct, frozen=True):
    """Points (n, 3) in space, ``sizes`` of them in a row on each of ``actors``. ``alone`` are
    those actors of which no facet is the same as one on stage, as of a ghost."""

    points: Array
    sizes: Sequence[int]
    actors: Sequence[Actor]
    alone: Sequence[bool]


class Sight(Struct, frozen=True):
    """For each facet on stage and each point (facets, points): whether it hides that, whether it
    would without windows, and whether it hides it and lies on it."""

    hides: Flags
    before: Flags
    lies: Flags


def sight_of(
    spots: Spots, stage: Sequence[Actor], shapes: Mapping[str, PieceShape], view: View
) -> Sight:
    """What the facets of a stage hide of some points. The facet that a point is on hides it not."""
    facets = [shapes[a.piece.name].facets[a.facet] for a in stage]
    rotations = np.array([a.pose.rotation for a in stage])
    shifts = np.array([a.pose.shift for a in stage])
    boxes = np.array([facet.bounds for facet in facets])
    facet, point = _near(spots, stage, boxes, rotations, shifts, view)
    # in the frame of each facet: the points, the way to the viewer, where that meets the plane
    local = np.einsum("kj,kji->ki", spots.points[point] - shifts[facet], rotations[facet])
    ways = (np.array(Camera(view, 1.0).toward) @ rotations)[facet]
    level = np.abs(ways[:, 2]) > 1e-6
    ahead = -local[:, 2] / np.where(level, ways[:, 2], 1.0)
    x, y = local[:, 0] + ahead * ways[:, 0], -local[:, 1] - ahead * ways[:, 1]
    left, top, right, bottom = boxes[facet].T
    ahead[~level] = 0.0
    met = (ahead > _AHEAD_MM) & (x >= left) & (x <= right) & (y >= top) & (y <= bottom)
    facet, point, x, y, depth = facet[met], point[met], x[met], y[met], local[met, 2]
    papers = many(f.paper for f in facets)
    found = np.zeros((3, len(stage), len(spots.points)), dtype=bool)
    hides, before, lies = found
    hides[facet, point] = before[facet, point] = shapely.contains_xy(papers[facet], x, y)
    windows = np.flatnonzero(shapely.get_num_interior_rings(papers)[facet])
    if len(windows):
        whole: Any = shapely.polygons(shapely.get_exterior_ring(papers[facet[windows]]))
        inside = shapely.contains_xy(whole, x[windows], y[windows])
        before[facet[windows], point[windows]] = inside
    normals = np.array([a.pose.normal for a in spots.actors])
    of = np.repeat(np.arange(len(spots.actors)), spots.sizes)
    parallel = np.abs((rotations[facet, :, 2] * normals[of[point]]).sum(axis=1)) > PARALLEL
    lies[facet, point] = parallel & (np.abs(depth) < LYING_MM)
    return Sight(hides, before, lies & hides)


def _near(
    spots: Spots,
    stage: Sequence[Actor],
    boxes: Array,
    rotations: Array,
    shifts: Array,
    view: View,
) -> tuple[npt.NDArray[np.intp], npt.NDArray[np.intp]]:
    """The pairs of facet and point that are worth a ray: those of facets whose boxes on paper
    overlap with that of the points of an actor, and reach nearer to the viewer."""
    rows = Camera(view, 1.0).rows
    flat = boxes[:, [[0, 1], [2, 1], [2, 3], [0, 3]]] * (1.0, -1.0)
    corners = (flat @ np.swapaxes(rotations[:, :, :2], 1, 2) + shifts[:, None]) @ rows.T
    low, high = corners.min(axis=1), corners.max(axis=1)
    placed = spots.points @ rows.T
    starts = np.concatenate(([0], np.cumsum(spots.sizes)[:-1]))
    least = np.minimum.reduceat(placed, starts, axis=0)
    most = np.maximum.reduceat(placed, starts, axis=0)
    meet = (low[:, None, :2] <= most[None, :, :2]) & (high[:, None, :2] >= least[None, :, :2])
    wanted = meet.all(axis=2) & (high[:, None, 2] > least[None, :, 2])
    place = {a.id: k for k, a in enumerate(stage)}
    for n, (actor, alone) in enumerate(zip(spots.actors, spots.alone, strict=True)):
        if not alone:
            wanted[place[actor.id], n] = False
    facet, part = np.nonzero(wanted)
    sizes = np.array(spots.sizes)[part]
    ends = np.cumsum(sizes)
    counted = np.arange(ends[-1] if len(ends) else 0) - np.repeat(ends - sizes, sizes)
    return np.repeat(facet, sizes), np.repeat(starts[part], sizes) + counted
