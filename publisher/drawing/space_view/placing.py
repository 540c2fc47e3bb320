"""Labels: where words may stand, and their leaders.

Words stand outside everything drawn. A leader ends with a dot inside the part it names (as
ISO 128-2 has leader lines end inside an outline). Places are tried on a grid; what is left
after the hard rules (in the picture, over nothing, crossing nothing) is ranked by coarse
costs, so that a small change of a size does not move a label to another side.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely
from msgspec import Struct
from shapely import LineString, Polygon
from shapely import Point as ShapelyPoint
from shapely.geometry.base import BaseGeometry

from publisher.drawing.space_view.camera import Array
from publisher.drawing.text import text_width_mm
from publisher.geometry.path import Point

LABEL_PT = 8.0
TEXT_HEIGHT_MM = 2.9
BASELINE_MM = 2.2  # from the top of the box
CLEAR_MM = 1.3
DOT_MM = 0.36
_STEP_MM = 1.5
_CELL_MM = 0.75
_LEADER_GAP_MM = 0.7
_GOAL_MM = 0.03  # so much simpler may the place for a leader's end be
_COARSE_MM = 2.0
_LEFT_COST_MM = 2.0
_ALONG = np.linspace(0.04, 0.96, 12)  # where leaders are asked what they run over
_NEAREST = 90  # so many places are tried for a part
_SHORTEST = 160  # so many of the shortest leaders are weighed against each other


class Request(Struct, frozen=True):
    """Words for a part, or room for a sign (``area`` None)."""

    text: str
    area: BaseGeometry | None
    width_mm: float = 0.0
    height_mm: float = TEXT_HEIGHT_MM


class Placement(Struct, frozen=True):
    """The box (left, top, width, height) of a request and its leader, from box to part."""

    request: Request
    box: tuple[float, float, float, float]
    leader: tuple[Point, Point] | None

    @property
    def outline(self) -> Polygon:
        x, y, w, h = self.box
        return shapely.box(x, y, x + w, y + h)


def label_request(text: str, area: BaseGeometry) -> Request:
    return Request(text, area, text_width_mm(text, LABEL_PT))


def _inner(area: BaseGeometry, avoid: BaseGeometry) -> BaseGeometry:
    """Where a leader may end: well inside the part, off arrows if it can be."""
    for inset in (1.3, 0.7, 0.35):
        inside = shapely.buffer(area, -inset, join_style="mitre")
        free = shapely.difference(inside, avoid)
        if free.area > 0.2:
            return shapely.simplify(free, _GOAL_MM)
    return shapely.point_on_surface(area)


def _ends(boxes: Array, width: float, height: float) -> Array:
    """For each box its four places where a leader may start, (n, 4, 2): left, right, top,
    bottom."""
    x, y = boxes[:, 0], boxes[:, 1]
    middle = y + height * 0.52
    centre = x + width / 2.0
    return np.stack(
        (
            np.column_stack((x - _LEADER_GAP_MM, middle)),
            np.column_stack((x + width + _LEADER_GAP_MM, middle)),
            np.column_stack((centre, y - 0.5)),
            np.column_stack((centre, y + height + 0.4)),
        ),
        axis=1,
    )


def place(
    requests: Sequence[Request],
    frame: tuple[float, float, float, float],
    drawn: BaseGeometry,
    arrows: BaseGeometry,
) -> list[Placement]:
    """Places for as many requests as find one, in their order.

    ``frame`` (x0, y0, x1, y1) is where words may stand; ``drawn`` is everything they must
    keep off (arrows included).
    """
    placed: list[Placement] = []
    keep_off = shapely.buffer(drawn, CLEAR_MM, quad_segs=2)
    shapely.prepare(keep_off)
    taken = _Taken.of(keep_off, frame)
    round_arrows = shapely.buffer(arrows, 0.3)
    shapely.prepare(round_arrows)
    for request in requests:
        w, h = request.width_mm, request.height_mm
        corners = taken.free_corners(w, h)
        goal = None if request.area is None else _inner(request.area, arrows)
        if goal is not None:
            away = _distance(corners, w, h, goal.bounds)
            corners = corners[np.argsort(np.round(away, 3), kind="stable")[:_NEAREST]]
        boxes = shapely.box(corners[:, 0], corners[:, 1], corners[:, 0] + w, corners[:, 1] + h)
        free = ~shapely.intersects(keep_off, boxes)
        for other in placed:
            wide = shapely.buffer(other.outline, CLEAR_MM, join_style="mitre")
            free &= ~shapely.intersects(wide, boxes)
            if other.leader is not None:
                free &= ~shapely.intersects(LineString(other.leader).buffer(0.8), boxes)
        corners = corners[free]
        if not len(corners):
            continue
        found = (
            _beside(request, corners, drawn)
            if goal is None
            else _led(request, corners, goal, drawn, round_arrows, placed)
        )
        if found is not None:
            placed.append(found)
    return placed


class _Taken(Struct, frozen=True):
    """Sums over a fine grid of points that are taken, so that a box that is surely not free
    is known at once. Thin things between the points are left to an exact test."""

    x0: float
    y0: float
    sums: Array  # (rows + 1, columns + 1)

    @staticmethod
    def of(keep_off: BaseGeometry, frame: tuple[float, float, float, float]) -> _Taken:
        x0, y0, x1, y1 = frame
        xs = np.arange(x0, x1 + 1e-9, _CELL_MM)
        ys = np.arange(y0, y1 + 1e-9, _CELL_MM)
        grid = shapely.contains_xy(keep_off, *np.meshgrid(xs, ys))
        sums = np.zeros((len(ys) + 1, len(xs) + 1))
        sums[1:, 1:] = grid.cumsum(axis=0).cumsum(axis=1)
        return _Taken(x0, y0, sums)

    def free_corners(self, width: float, height: float) -> Array:
        """Top left corners, every ``_STEP_MM``, of boxes in the frame with no point taken."""
        rows, columns = (n - 1 for n in self.sums.shape)
        across, down = (int(v / _CELL_MM) + 1 for v in (width, height))
        stride = round(_STEP_MM / _CELL_MM)
        i = np.arange(0, max(0, rows - down - 1), stride)[:, None]
        j = np.arange(0, max(0, columns - across - 1), stride)[None, :]
        s = self.sums
        count = s[i + down, j + across] - s[i, j + across] - s[i + down, j] + s[i, j]
        row, column = np.nonzero(count == 0)
        x = self.x0 + column * (stride * _CELL_MM)
        y = self.y0 + row * (stride * _CELL_MM)
        return np.column_stack((x, y))


def _distance(corners: Array, w: float, h: float, to: tuple[float, ...]) -> Array:
    """From boxes of one size to a rectangle."""
    x, y = corners[:, 0], corners[:, 1]
    dx = np.maximum(0.0, np.maximum(to[0] - (x + w), x - to[2]))
    dy = np.maximum(0.0, np.maximum(to[1] - (y + h), y - to[3]))
    return np.hypot(dx, dy)


def _beside(request: Request, corners: Array, drawn: BaseGeometry) -> Placement:
    """A sign: under the drawing and in the middle of it, as near as it can be."""
    x0, _, x1, y1 = drawn.bounds
    w, h = request.width_mm, request.height_mm
    aside = np.abs(corners[:, 0] + w / 2.0 - (x0 + x1) / 2.0)
    down = np.abs(corners[:, 1] - y1)
    cost = np.round((aside * 0.6 + down) / _COARSE_MM)
    k = int(np.lexsort((corners[:, 0], corners[:, 1], cost))[0])
    return Placement(request, (float(corners[k, 0]), float(corners[k, 1]), w, h), None)


def _led(
    request: Request,
    corners: Array,
    goal: BaseGeometry,
    drawn: BaseGeometry,
    round_arrows: BaseGeometry,
    placed: Sequence[Placement],
) -> Placement | None:
    w, h = request.width_mm, request.height_mm
    starts = _ends(corners, w, h).reshape(-1, 2)
    leaders = shapely.shortest_line(shapely.points(starts), goal)
    ends = shapely.get_coordinates(shapely.get_point(leaders, 1))
    side = np.tile(np.arange(4), len(corners))
    run = ends - starts
    length = np.hypot(run[:, 0], run[:, 1])
    # a leader leaves the words on the side where the part lies
    leaves = np.choose(side, (-run[:, 0], run[:, 0], -run[:, 1], run[:, 1]))
    fit = leaves > 0.35 * length
    fit &= ~shapely.intersects(round_arrows, leaders)
    for other in placed:
        fit &= ~shapely.intersects(shapely.buffer(other.outline, 0.5), leaders)
        if other.leader is not None:
            fit &= ~shapely.dwithin(LineString(other.leader), leaders, 1.0)
    if not fit.any():
        return None
    chosen = np.flatnonzero(fit)
    chosen = chosen[np.argsort(np.round(length[chosen], 3), kind="stable")[:_SHORTEST]]
    others = shapely.difference(drawn, request.area)
    shapely.prepare(others)
    parts = starts[chosen, None, :] + run[chosen, None, :] * _ALONG[None, :, None]
    over = shapely.contains_xy(others, parts).mean(axis=1) * length[chosen]
    cost = length[chosen] + 1.5 * over + np.where(side[chosen] < 2, 0.0, 1.0)
    # of two sides that are nearly alike the right one is taken, whatever the sizes
    cost += np.where(starts[chosen, 0] < ends[chosen, 0], _LEFT_COST_MM, 0.0)
    coarse = np.round(cost / _COARSE_MM)
    start = starts[chosen]
    k = chosen[int(np.lexsort((start[:, 0], start[:, 1], coarse))[0])]
    corner = corners[k // 4]
    leader = (
        (float(starts[k, 0]), float(starts[k, 1])),
        (float(ends[k, 0]), float(ends[k, 1])),
    )
    return Placement(request, (float(corner[0]), float(corner[1]), w, h), leader)


def dot(at: Point) -> Polygon:
    """The end of a leader inside a part."""
    return ShapelyPoint(at).buffer(DOT_MM, quad_segs=4)
