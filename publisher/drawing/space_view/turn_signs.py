"""The sign for a turn: its axis and an arrow round it, both as the view shows them.

A thing that is turned over, stood up or turned round has an arrow that goes round the true
axis, so that it tells which way. Of half a turn the arrow is a loop that is nearly closed, of
less than that it goes as far round as the thing.
"""

from __future__ import annotations

import numpy as np
import shapely
from msgspec import Struct
from shapely import LineString
from shapely.geometry.base import BaseGeometry

from publisher.drawing.space_view.arrows import BODY_MM, ArrowShape, arrow
from publisher.drawing.space_view.camera import Array, Camera, View
from publisher.geometry.path import Point
from publisher.geometry.space import Vector, cross, dot, scaled, sub, unit

_RADIUS_MM = 5.2
_AXIS_MM = 8.5  # from the middle to each end
_LOOP_DEG, _LEAST_DEG = 290.0, 80.0  # how far the arrow goes round, at most and least
_HALF_DEG = 135.0  # a turn by more is drawn as a loop
_UP: Vector = (0.0, 0.0, 1.0)
_SPECK_MM2 = 0.5  # what the gap leaves of a tail is no sign
_GAP_MM = 0.35  # between the arrow and the axis that passes over it


class TurnSign(Struct, frozen=True):
    """``axis`` is in stretches, for the arrow passes before it; ``bounds`` of both, mm."""

    axis: tuple[tuple[Point, Point], ...]
    arrow: ArrowShape
    bounds: tuple[float, float, float, float]


def turn_sign(axis: Vector, angle_deg: float, view: View) -> TurnSign:
    """The sign of a right-handed turn about an axis, its middle in the origin of the paper."""
    around = unit(scaled(axis, 1.0 if angle_deg >= 0.0 else -1.0))
    camera = Camera(view, 1.0)
    # the middle of the way: over the top of a level axis, and before an upright one
    ahead = _UP if abs(dot(around, _UP)) < 0.7 else camera.toward
    middle = unit(sub(ahead, scaled(around, dot(ahead, around))))
    far = abs(angle_deg)
    sweep = _LOOP_DEG if far > _HALF_DEG else max(far, _LEAST_DEG)
    turn = np.radians(np.linspace(-sweep / 2.0, sweep / 2.0, 60))[:, None]
    ring = _RADIUS_MM * (np.cos(turn) * middle + np.sin(turn) * cross(around, middle))
    loop = camera.project(ring)
    shape = arrow([(float(x), float(y)) for x, y in loop[:, :2]], "valley")
    (ends,) = camera.project(np.array([around]))[:, :2] * _AXIS_MM
    line = LineString([-ends, ends])
    before, behind = (_stretches(loop, side) for side in (1.0, -1.0))
    over = shapely.buffer(line, _GAP_MM, cap_style="flat")
    hidden = shapely.intersection(over, shapely.buffer(behind, BODY_MM))
    cut = shapely.get_parts(shapely.difference(shape.ink, hidden))
    ink = shapely.union_all(cut[shapely.area(cut) > _SPECK_MM2])
    shown = ArrowShape(ink, shape.halo)
    rest = shapely.difference(line, shapely.buffer(before, BODY_MM))
    parts = tuple(
        ((float(a[0]), float(a[1])), (float(b[0]), float(b[1])))
        for a, b in (shapely.get_coordinates(part) for part in shapely.get_parts(rest))
    )
    x0, y0, x1, y1 = shapely.union(rest, shape.halo).bounds
    return TurnSign(parts, shown, (x0, y0, x1, y1))


def _stretches(loop: Array, side: float) -> BaseGeometry:
    """What of a loop (n, 3) lies nearer than its axis (``side`` +1) or farther (-1), on paper."""
    near = loop[:, 2] * side > 1e-9
    return shapely.union_all(
        [LineString(loop[k : k + 2, :2]) for k in range(len(loop) - 1) if near[k] and near[k + 1]]
    )
