"""Free places for words, arrows and squares, in pieces and beside them."""

from __future__ import annotations

import math

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from publisher.geometry.measure import Bounds
from publisher.geometry.path import Point
from publisher.geometry.shapely_bridge import path_to_shapely, to_shapely
from publisher.model.types import Piece

CLEAR_MM = 1.2
"""Between words and lines."""
STEP_MM = 2.0
MOST = 160
"""Trials along each side of a room."""
FEW = 24


def clear_room(piece: Piece, clear_mm: float = CLEAR_MM) -> BaseGeometry:
    """The paper of a piece, in its own coordinates, away from all lines and glue zones."""
    paper = to_shapely(piece.outline).buffer(-clear_mm, quad_segs=2)
    lines = [path_to_shapely(score.path) for score in piece.scores]
    lines += [path_to_shapely(o.path) for o in piece.openings if o.kind in ("slit", "perforation")]
    lines += [path_to_shapely(p) for m in piece.marks for p in m.paths]
    zones = [to_shapely(zone.region) for zone in piece.glue_zones]
    taken = shapely.union_all([*lines, *zones]).buffer(clear_mm, quad_segs=2)
    return paper.difference(taken)


def find_spot(
    room: BaseGeometry, width_mm: float, height_mm: float, near: Point | None = None
) -> Bounds | None:
    """A box of this size inside the room, its middle as near as may be to a point (the middle
    of the room's largest part where none is given); None where it fits nowhere.

    Boxes are tried on a grid of ``STEP_MM``, coarser in a very large room.
    """
    parts = [p for p in shapely.get_parts(room) if _may_hold(p, width_mm, height_mm)]
    if not parts:
        return None
    largest = max(parts, key=lambda p: p.area)
    goal = near or _middle(largest)
    best: tuple[float, Bounds] | None = None
    for part in parts:
        found = _nearest(part, width_mm, height_mm, goal)
        if found is not None and (best is None or found[0] < best[0] - 1e-6):
            best = found
    return best[1] if best else None


def _nearest(
    part: BaseGeometry, width_mm: float, height_mm: float, goal: Point
) -> tuple[float, Bounds] | None:
    """The box within one part whose middle is nearest to a point, and how far off it is."""
    x0, y0, x1, y1 = part.bounds
    xs = _trials(x0, x1 - width_mm, goal[0] - width_mm / 2)
    ys = _trials(y0, y1 - height_mm, goal[1] - height_mm / 2)
    lefts, tops = (a.ravel() for a in np.meshgrid(xs, ys))
    away = np.hypot(lefts + width_mm / 2 - goal[0], tops + height_mm / 2 - goal[1]).round(3)
    order = np.lexsort((lefts, tops, away))
    shapely.prepare(part)
    # The nearest first, few at a time: mostly one of them will do.
    at, few = 0, FEW
    while at < len(order):
        tried = order[at : at + few]
        left, top = lefts[tried], tops[tried]
        inside = shapely.contains(part, shapely.box(left, top, left + width_mm, top + height_mm))
        if inside.any():
            first = int(inside.argmax())
            x, y = float(left[first]), float(top[first])
            return float(away[tried[first]]), (x, y, x + width_mm, y + height_mm)
        at, few = at + few, few * 2
    return None


def without(room: BaseGeometry, box: Bounds, clear_mm: float = CLEAR_MM) -> BaseGeometry:
    """What is left of the room where a box is taken."""
    x0, y0, x1, y1 = box
    taken = shapely.box(x0 - clear_mm, y0 - clear_mm, x1 + clear_mm, y1 + clear_mm)
    return room.difference(taken)


def _may_hold(part: BaseGeometry, width_mm: float, height_mm: float) -> bool:
    if part.is_empty or part.area < width_mm * height_mm:
        return False
    x0, y0, x1, y1 = part.bounds
    return bool(x1 - x0 >= width_mm and y1 - y0 >= height_mm)


def _middle(part: BaseGeometry) -> Point:
    """The middle of its box where that lies inside, else a point that surely does."""
    x0, y0, x1, y1 = part.bounds
    middle = shapely.Point((x0 + x1) / 2, (y0 + y1) / 2)
    inside = middle if part.contains(middle) else part.representative_point()
    return (inside.x, inside.y)


def _trials(low: float, high: float, wished: float) -> np.ndarray[tuple[int], np.dtype[np.float64]]:
    """From low to high, both among them, and the wished one where it lies between."""
    count = min(MOST, max(1, math.ceil((high - low) / STEP_MM)))
    even = np.linspace(low, high, count + 1)
    # NumPy's own way to sort out equals loads its masked arrays first.
    return np.array(sorted({*even.tolist(), min(max(wished, low), high)}))
