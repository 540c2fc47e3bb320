"""Which of many boxes, laid slanting on paper, can overlap."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from publisher.drawing.space_view.camera import Array

_SIDE_BY_SIDE_MM = 1e-3  # boxes that overlap by less lie beside each other


def boxes_meet(
    boxes: Array,
    maps: Array,
    shifts: Array,
    first: npt.NDArray[np.intp],
    second: npt.NDArray[np.intp],
) -> npt.NDArray[np.bool_]:
    """Which pairs of parallelograms overlap: flat boxes (n, 4: least x, y, greatest x, y), each
    laid on paper by its own map (n, 2, 2) and shift (n, 2). Two convex areas are apart where a
    line along a side of one of them has them on its two sides (separating axis theorem)."""
    middles = (maps @ ((boxes[:, :2] + boxes[:, 2:]) / 2.0)[:, :, None])[:, :, 0] + shifts
    halves = np.swapaxes(maps, 1, 2) * ((boxes[:, 2:] - boxes[:, :2]) / 2.0)[:, :, None]
    run = middles[second] - middles[first]
    sides, others = halves[first], halves[second]  # (pairs, 2, 2): half a side each
    between = np.abs(_cross(sides[:, :, None], others[:, None]))  # each side against each other
    alone = np.abs(_cross(halves[:, 0], halves[:, 1]))
    apart = np.zeros(len(first), dtype=bool)
    for own, place, axis in ((sides, first, 2), (others, second, 1)):
        reach = alone[place, None] + between.sum(axis=axis)
        least = _SIDE_BY_SIDE_MM * np.hypot(own[..., 0], own[..., 1])
        apart |= (np.abs(_cross(own, run[:, None])) > reach - least).any(axis=1)
    return ~apart


def _cross(a: Array, b: Array) -> Array:
    return np.asarray(a[..., 0] * b[..., 1] - a[..., 1] * b[..., 0])


def box_corners(boxes: Array, maps: Array, shifts: Array) -> Array:
    """The corners (n, 4, 2) on paper of flat boxes, as in ``boxes_meet``."""
    flat = boxes[:, [[0, 1], [2, 1], [2, 3], [0, 3]]]
    return np.asarray(flat @ np.swapaxes(maps, 1, 2) + shifts[:, None])
