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
    middles = np.einsum("nij,nj->ni", maps, (boxes[:, :2] + boxes[:, 2:]) / 2.0) + shifts
    halves = np.swapaxes(maps, 1, 2) * ((boxes[:, 2:] - boxes[:, :2]) / 2.0)[:, :, None]
    run = middles[second] - middles[first]
    sides = np.concatenate((halves[first], halves[second]), axis=1)  # (pairs, 4, 2)
    across = np.stack((-sides[..., 1], sides[..., 0]), axis=-1)
    reach = np.abs(np.einsum("pik,pjk->pij", across, sides)).sum(axis=2)
    away = np.abs(np.einsum("pik,pk->pi", across, run))
    least = _SIDE_BY_SIDE_MM * np.hypot(sides[..., 0], sides[..., 1])
    return np.asarray(~(away > reach - least).any(axis=1))


def box_corners(boxes: Array, maps: Array, shifts: Array) -> Array:
    """The corners (n, 4, 2) on paper of flat boxes, as in ``boxes_meet``."""
    flat = boxes[:, [[0, 1], [2, 1], [2, 3], [0, 3]]]
    return np.asarray(flat @ np.swapaxes(maps, 1, 2) + shifts[:, None])
