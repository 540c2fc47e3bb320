"""Room that is taken, on a fine grid, so that places for words are found many at once."""

from __future__ import annotations

import numpy as np
import shapely
from msgspec import Struct
from shapely.geometry.base import BaseGeometry

from publisher.drawing.space_view.camera import Array

STEP_MM = 1.5
CELL_MM = 0.75


def covered(area: BaseGeometry, xs: Array, ys: Array) -> Array:
    """Which points of a grid, rows ``ys`` by columns ``xs``, lie in an area (0 or 1), by the
    crossings of each row with its rings (even-odd)."""
    rings = shapely.get_rings(area)
    if not len(rings):
        return np.zeros((len(ys), len(xs)), dtype=int)
    points, ring = shapely.get_coordinates(rings, return_index=True)
    same = ring[1:] == ring[:-1]
    start, end = points[:-1][same], points[1:][same]
    below = ys[:, None] >= start[None, :, 1]
    row, edge = np.nonzero(below != (ys[:, None] >= end[None, :, 1]))
    run = end[edge] - start[edge]
    x = start[edge, 0] + (ys[row] - start[edge, 1]) * run[:, 0] / run[:, 1]
    column = np.searchsorted(xs, x)
    wide = len(xs) + 1
    crossings = np.bincount(row * wide + column, minlength=len(ys) * wide).reshape(-1, wide)
    return np.asarray(crossings.cumsum(axis=1)[:, :-1] % 2)


class Taken(Struct, frozen=True):
    """Sums over a fine grid of points that are taken, so that a box that is surely not free
    is known at once. Thin things between the points are left to an exact test."""

    x0: float
    y0: float
    sums: Array  # (rows + 1, columns + 1)

    @staticmethod
    def of(keep_off: BaseGeometry, frame: tuple[float, float, float, float]) -> Taken:
        x0, y0, x1, y1 = frame
        xs = np.arange(x0, x1 + 1e-9, CELL_MM)
        ys = np.arange(y0, y1 + 1e-9, CELL_MM)
        sums = np.zeros((len(ys) + 1, len(xs) + 1))
        sums[1:, 1:] = covered(keep_off, xs, ys).cumsum(axis=0).cumsum(axis=1)
        return Taken(x0, y0, sums)

    def and_of(self, area: BaseGeometry, frame: tuple[float, float, float, float]) -> Taken:
        """The same with an area taken besides; points in both count twice."""
        return Taken(self.x0, self.y0, self.sums + Taken.of(area, frame).sums)

    def free_corners(self, width: float, height: float) -> Array:
        """Top left corners, every ``STEP_MM``, of boxes in the frame with no point taken."""
        rows, columns = (n - 1 for n in self.sums.shape)
        across, down = (int(v / CELL_MM) + 1 for v in (width, height))
        stride = round(STEP_MM / CELL_MM)
        i = np.arange(0, max(0, rows - down - 1), stride)[:, None]
        j = np.arange(0, max(0, columns - across - 1), stride)[None, :]
        s = self.sums
        count = s[i + down, j + across] - s[i, j + across] - s[i + down, j] + s[i, j]
        row, column = np.nonzero(count == 0)
        x = self.x0 + column * (stride * CELL_MM)
        y = self.y0 + row * (stride * CELL_MM)
        return np.column_stack((x, y))
