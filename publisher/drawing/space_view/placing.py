"""Labels: where words may stand, and their leaders.

Words stand outside everything drawn. A leader ends with a dot inside the part it names (as
ISO 128-2 has leader lines end inside an outline). Places are tried on a grid; what is left
after the hard rules (in the picture, over nothing, crossing nothing) is ranked by coarse
costs, so that a small change of a size does not move a label to another side.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np
import shapely
from msgspec import Struct
from shapely import LineString, Polygon
from shapely.geometry.base import BaseGeometry

from publisher.drawing.space_view.camera import Array
from publisher.drawing.space_view.ground import CLEAR_MM, Ground
from publisher.drawing.text import text_width_mm
from publisher.geometry.path import Point

LABEL_PT = 8.0
TEXT_HEIGHT_MM = 2.9
BASELINE_MM = 2.2  # from the top of the box
DOT_MM = 0.36
_LEADER_GAP_MM = 0.7
_GOAL_MM = 0.03  # so much simpler may the place for a leader's end be
_COARSE_MM = 2.0
_STEP_AT = 0.25  # costs step off the lengths that leaders mostly have: fewer words change sides
_LEFT_COST_MM = 2.0
_CROSSING_MM = 10.0  # so much longer may a leader be that crosses no marked line
_ALONG = np.linspace(0.04, 0.96, 12)  # where leaders are asked what they run over
_NEAREST = 120  # so many places are tried for a part
_AT_ONCE = 40  # so many leaders are weighed before it is seen whether others can be better


class Request(Struct, frozen=True):
    """Words for a part, or room for a sign (``area`` None), near ``beside`` if that is given."""

    text: str
    area: BaseGeometry | None
    width_mm: float = 0.0
    height_mm: float = TEXT_HEIGHT_MM
    beside: BaseGeometry | None = None


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
    requests: Sequence[Request], ground: Ground, before: Sequence[Placement] = ()
) -> list[Placement]:
    """Places for as many requests as find one, in their order, off what was placed
    ``before``, too. Where some find none they are asked first, if more find one so."""
    found = _in_order(requests, ground, before)
    if len(found) < len(requests):
        there = {id(one.request) for one in found}
        order = sorted(requests, key=lambda request: id(request) in there)
        if any(one is not other for one, other in zip(order, requests, strict=True)):
            again = _in_order(order, ground, before)
            found = again if len(again) > len(found) else found
    return found


def _in_order(
    requests: Sequence[Request], ground: Ground, before: Sequence[Placement]
) -> list[Placement]:
    placed = list(before)
    drawn, arrows = ground.drawn, ground.arrows
    for request in requests:
        w, h = request.width_mm, request.height_mm
        corners = ground.taken.free_corners(w, h)
        goal = None if request.area is None else _inner(request.area, arrows)
        if goal is not None:
            away = _distance(corners, w, h, goal.bounds)
            corners = corners[np.argsort(np.round(away, 3), kind="stable")[:_NEAREST]]
        boxes = shapely.box(corners[:, 0], corners[:, 1], corners[:, 0] + w, corners[:, 1] + h)
        free = np.ones(len(corners), dtype=bool)
        for area in ground.keep_off:
            free &= ~shapely.intersects(area, boxes)
        for other in placed:
            wide = shapely.box(*_grown(other.box, CLEAR_MM))
            free &= ~shapely.intersects(wide, boxes)
            if other.leader is not None:
                free &= ~shapely.dwithin(LineString(other.leader), boxes, 0.8)
        corners = corners[free]
        if not len(corners):
            continue
        found: Placement | None
        if goal is None or request.area is None:
            found = _beside(request, corners, drawn)
        else:
            found = _led(request, corners, goal, ground, placed)
            if _crosses(found, ground):  # then to a small part, if that can be without
                parts = shapely.get_parts(request.area)
                smaller = shapely.union_all([_inner(part, arrows) for part in parts])
                finer = _led(request, corners, smaller, ground, placed)
                found = found if _crosses(finer, ground) else finer or found
        if found is not None:
            placed.append(found)
    return placed[len(before) :]


def _crosses(found: Placement | None, ground: Ground) -> bool:
    """Whether the leader of a place crosses a marked line or a ring."""
    return (
        found is not None
        and found.leader is not None
        and bool(shapely.intersects(ground.shy, LineString(found.leader)))
    )


def _distance(corners: Array, w: float, h: float, to: tuple[float, ...]) -> Array:
    """From boxes of one size to a rectangle."""
    x, y = corners[:, 0], corners[:, 1]
    dx = np.maximum(0.0, np.maximum(to[0] - (x + w), x - to[2]))
    dy = np.maximum(0.0, np.maximum(to[1] - (y + h), y - to[3]))
    return np.hypot(dx, dy)


def _beside(request: Request, corners: Array, drawn: BaseGeometry) -> Placement:
    """A sign: beside what it speaks of, level with its middle; or, where that is hidden, in a free
    corner below if there is one, so that the picture grows no higher; else under the middle of
    the drawing."""
    x0, _, x1, y1 = drawn.bounds
    w, h = request.width_mm, request.height_mm
    if request.beside is not None and not request.beside.is_empty:
        cost = np.round(_distance(corners, w, h, request.beside.bounds) / _COARSE_MM)
        level = shapely.centroid(request.beside).y
        off = np.round(np.abs(corners[:, 1] + h / 2.0 - level) / _COARSE_MM)
        k = int(np.lexsort((corners[:, 0], -corners[:, 1], off, cost))[0])
        return Placement(request, (float(corners[k, 0]), float(corners[k, 1]), w, h), None)
    aside = np.abs(corners[:, 0] + w / 2.0 - (x0 + x1) / 2.0)
    bottom = corners[:, 1] + h
    above, below = np.maximum(0.0, y1 - bottom), np.maximum(0.0, bottom - y1)
    cost = np.round((aside * 0.25 + above * 0.6 + below * 2.0) / _COARSE_MM)
    k = int(np.lexsort((corners[:, 0], corners[:, 1], cost))[0])
    return Placement(request, (float(corners[k, 0]), float(corners[k, 1]), w, h), None)


def _led(
    request: Request,
    corners: Array,
    goal: BaseGeometry,
    ground: Ground,
    placed: Sequence[Placement],
) -> Placement | None:
    w, h = request.width_mm, request.height_mm
    starts = _ends(corners, w, h)
    x0, y0, x1, y1 = goal.bounds
    # a leader leaves the words on the side where the part lies
    faces = np.stack(
        (
            starts[:, 0, 0] > x0,
            starts[:, 1, 0] < x1,
            starts[:, 2, 1] > y0,
            starts[:, 3, 1] < y1,
        ),
        axis=1,
    )
    box, side = np.nonzero(faces)
    starts = starts[box, side]
    shapely.prepare(goal)
    leaders: Any = shapely.shortest_line(goal, shapely.points(starts))
    ends = shapely.get_coordinates(leaders)[::2]
    run = ends - starts
    length = np.hypot(run[:, 0], run[:, 1])
    leaves = np.choose(side, (-run[:, 0], run[:, 0], -run[:, 1], run[:, 1]))
    # of two sides that are nearly alike the right one is taken, whatever the sizes
    cost = length + np.where(side < 2, 0.0, 1.0)
    cost += np.where(starts[:, 0] < ends[:, 0], _LEFT_COST_MM, 0.0)

    order = np.argsort(np.round(cost, 3), kind="stable")
    order = order[(leaves > 0.35 * length)[order]]
    shapely.prepare(request.area)
    best: tuple[float, float, float, int] | None = None
    for first in range(0, len(order), _AT_ONCE):
        some = order[first : first + _AT_ONCE]
        if best is not None and round(float(cost[some[0]]) / _COARSE_MM + _STEP_AT) > best[0]:
            break  # what a leader runs over only makes it dearer
        some = some[_clear(leaders[some], ground.round_arrows, placed)]
        parts = starts[some, None, :] + run[some, None, :] * _ALONG[None, :, None]
        x, y = np.moveaxis(parts, -1, 0)
        others = shapely.contains_xy(ground.drawn, x, y) & ~shapely.contains_xy(request.area, x, y)
        over = others.mean(axis=1) * length[some]
        over += _CROSSING_MM * shapely.intersects(ground.shy, leaders[some])
        coarse = np.round((cost[some] + over) / _COARSE_MM + _STEP_AT)
        if len(some):
            k = int(np.lexsort((starts[some, 0], starts[some, 1], coarse))[0])
            key = (
                float(coarse[k]),
                float(starts[some[k], 1]),
                float(starts[some[k], 0]),
                int(some[k]),
            )
            best = key if best is None else min(best, key)
    if best is None:
        return None
    k = best[3]
    corner = corners[box[k]]
    leader = (
        (float(starts[k, 0]), float(starts[k, 1])),
        (float(ends[k, 0]), float(ends[k, 1])),
    )
    return Placement(request, (float(corner[0]), float(corner[1]), w, h), leader)


def _clear(leaders: Any, round_arrows: BaseGeometry, placed: Sequence[Placement]) -> Any:
    """Which leaders cross no arrow, no words and come near no other leader."""
    fit = ~shapely.intersects(round_arrows, leaders)
    for other in placed:
        fit &= ~shapely.dwithin(other.outline, leaders, 0.5)
        if other.leader is not None:
            fit &= ~shapely.dwithin(LineString(other.leader), leaders, 1.0)
    return fit


def _grown(box: tuple[float, float, float, float], by: float) -> tuple[float, float, float, float]:
    """A box (left, top, width, height) grown, as its two corners."""
    x, y, w, h = box
    return (x - by, y - by, x + w + by, y + h + by)
