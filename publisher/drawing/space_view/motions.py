"""Where arrows go: the paths that parts travel, on paper."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

import numpy as np
import shapely
from msgspec import Struct
from shapely import LineString
from shapely.geometry.base import BaseGeometry
from shapely.ops import polylabel

from publisher.assembly.types import MoveMotion
from publisher.drawing.space_view.arrows import (
    ArrowKind,
    ArrowShape,
    arrow,
)
from publisher.drawing.space_view.camera import Array, Camera
from publisher.drawing.space_view.many import many, united
from publisher.drawing.space_view.projected import Projected
from publisher.drawing.space_view.stage import Stage
from publisher.geometry.path import Point

MOST_ARROWS = 6
WANTED_MM = 9.5  # an arrow shorter than this is drawn longer, its tail where it was
MOVE_TAIL_MM = 4.0
_MOVE_LONGEST_MM = 15.0
_TO_PLACE_MM = 17.0  # ahead of its part, so that it comes to the place where that will lie
_INTO_PLACE_MM = 1.0
_LONG_EDGE_MM = 5.0
_COARSE_MM = 4.0
BESIDE_MM = 1.6  # arrows keep as far apart as that
_SLOT_MM = 1.5  # a cut so narrow is a slot: what an arrow must not hide
_HIDES_MM = 1.0  # of a slot, to the nearest
_ON_MM = 0.5  # an arrow that starts farther off its part seems to belong to another


class PlacedArrow(Struct, frozen=True):
    """An arrow on paper. ``name`` is the fold or the moving body; ``curl``: paper bends along
    it and no fold is made; ``behind``: so long a stretch of its tail lies behind paper, mm;
    ``again``: so many times more the same is done, a bar across it for each, and
    ``far_side`` times where it is not seen, with bars of dots."""

    kind: ArrowKind
    body: str
    name: str
    path: tuple[Point, ...]
    shape: ArrowShape
    curl: bool = False
    behind: float = 0.0
    again: int = 0
    far_side: int = 0


def _edge_middles(areas: Sequence[BaseGeometry]) -> list[Array]:
    """The middles of the long straight edges of areas."""
    found = []
    for area in areas:
        corners = shapely.get_coordinates(shapely.simplify(area, 0.05))
        for a, b in pairwise(corners):
            if np.hypot(*(b - a)) > _LONG_EDGE_MM:
                found.append((a + b) / 2.0)
    return found


def _slots(areas: Sequence[BaseGeometry]) -> BaseGeometry:
    """The narrow cuts into areas, and as much round them as an arrow would cover."""
    found = []
    for area in areas:
        for gap in shapely.get_parts(shapely.difference(shapely.convex_hull(area), area)):
            if shapely.area(shapely.buffer(gap, -_SLOT_MM / 2.0)) == 0.0:
                found.append(shapely.buffer(gap, BESIDE_MM))
    return united(found)


def _as_far_as(place: BaseGeometry, start: Array, way: Array, ahead: float) -> float:
    """How far an arrow goes: a little into the place of its part where that is near enough."""
    crossed = shapely.intersection(LineString([start, start + way * _TO_PLACE_MM]), place)
    if crossed.is_empty:
        return ahead
    near = min(float((np.array(c) - start) @ way) for c in shapely.get_coordinates(crossed))
    return max(ahead, min(near + _INTO_PLACE_MM, _TO_PLACE_MM))


def move_arrow(
    motion: MoveMotion,
    stage: Stage,
    camera: Camera,
    items: Sequence[Projected],
    seen: Sequence[BaseGeometry],
) -> PlacedArrow | None:
    """The arrow of bodies that travel, along the way that they are drawn away from their
    place: from their leading edge, or from another edge where that points at nothing."""
    own = [k for k, i in enumerate(items) if i.actor.body in motion.bodies and not i.ghost]
    rest = [k for k, i in enumerate(items) if i.actor.body not in motion.bodies and not i.ghost]
    away = np.array(stage.away.get(motion.bodies[0], (0.0, 0.0, 0.0)))
    run = camera.project(-away[None, :])[0, :2]
    travel = float(np.hypot(*run))
    if travel < 0.5 or not own:
        return None
    way = run / travel
    shape = united(items[k].area for k in own)
    middle = np.array(shapely.get_coordinates(shapely.centroid(shapely.envelope(shape)))[0])
    crossed = shapely.intersection(LineString([middle, middle + way * 1e3]), shape)
    lead = max(
        (float((np.array(c) - middle) @ way) for c in shapely.get_coordinates(crossed)),
        default=0.0,
    )
    place = united(i.area for i in items if i.ghost and i.actor.body in motion.bodies)
    goal = many([*(seen[k] for k in rest), place])
    shapely.prepare(goal)
    slots = _slots([items[k].area for k in own])
    shown = united(seen[k] for k in own)
    ahead = min(travel * 0.9, _MOVE_LONGEST_MM - MOVE_TAIL_MM)
    options = []
    first = middle + way * lead
    inside = not (shown.is_empty or shapely.dwithin(shown, shapely.Point(first), _ON_MM))
    if inside:  # behind other paper: then from the middle of what is seen of it
        widest = max(shapely.get_parts(shown), key=lambda part: round(float(part.area), 3))
        first = shapely.get_coordinates(polylabel(widest, 0.1))[0]
    back = 0.0 if inside else min(MOVE_TAIL_MM, lead)
    starts = [first, *_edge_middles([items[k].area for k in own])]
    for order, start in enumerate(starts):
        tip = start + way * _as_far_as(place, start, way, ahead)
        misses = not shapely.intersects_xy(goal, *tip).any()
        tail = start - way * back
        hides = int(shapely.intersection(LineString([tail, tip]), slots).length / _HIDES_MM)
        over = shapely.intersection(LineString([start + way * 0.2, tip]), shown).length
        over = 0.0 if inside and order == 0 else over
        aside = abs(float(np.dot(start - middle, (-way[1], way[0]))))
        left = round(float(start[0]) / _COARSE_MM)
        cost = (hides, misses, round(over / 2.0), order > 0, round(aside / _COARSE_MM), left, order)
        options.append((cost, start, tip))
    _, start, tip = min(options, key=lambda o: o[0])
    tail = start - way * back
    path = ((float(tail[0]), float(tail[1])), (float(tip[0]), float(tip[1])))
    return PlacedArrow("move", motion.bodies[0], motion.bodies[0], path, arrow(path, "move"))
