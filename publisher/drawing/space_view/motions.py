"""Where arrows go: the paths that parts travel, on paper."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from itertools import pairwise

import numpy as np
import shapely
from msgspec import Struct
from msgspec.structs import replace
from shapely import LineString
from shapely.geometry.base import BaseGeometry
from shapely.ops import polylabel

from publisher.assembly.types import FacetId, FoldMotion, MoveMotion
from publisher.drawing.space_view.arrows import (
    SHORTEST_MM,
    ArrowKind,
    ArrowShape,
    arrow,
    distances,
    repeated,
)
from publisher.drawing.space_view.behind import shown_part
from publisher.drawing.space_view.camera import Array, Camera
from publisher.drawing.space_view.many import many, united
from publisher.drawing.space_view.projected import Projected
from publisher.drawing.space_view.shapes import PieceShape
from publisher.drawing.space_view.sides import Backs, as_seen, other
from publisher.drawing.space_view.stage import Stage
from publisher.drawing.space_view.turning import fold_path, travelled, turning_facet
from publisher.geometry.path import Point
from publisher.model.types import Bend, Hinge

MOST_ARROWS = 4
_NUMBER = re.compile(r" \d+$")
_UNSEEN_MM2 = 0.5
_ALONG_HINGE = (0.5, 0.36, 0.64, 0.22, 0.78, 0.1, 0.9)  # where an arrow may start, best first
WANTED_MM = 9.5  # an arrow shorter than this is drawn longer, its tail where it was
MOVE_TAIL_MM = 4.0
_MOVE_LONGEST_MM = 15.0
_LONG_EDGE_MM = 5.0
_BESIDE_MM = 1.6  # arrows keep as far apart as that
_SLOT_MM = 1.5  # a cut so narrow is a slot: what an arrow must not hide
_HIDES_MM = 2.0
_ON_MM = 0.5  # an arrow that starts farther off its part seems to belong to another


class PlacedArrow(Struct, frozen=True):
    """An arrow on paper. ``name`` is the fold or the moving body; ``curl``: paper bends along
    it and no fold is made; ``behind``: so long a stretch of its tail lies behind paper, mm;
    ``again``: so many times more the same is done where it is not seen."""

    kind: ArrowKind
    body: str
    name: str
    path: tuple[Point, ...]
    shape: ArrowShape
    curl: bool = False
    behind: float = 0.0
    again: int = 0


def fold_arrows(
    motion: FoldMotion,
    stage: Stage,
    shape: PieceShape,
    camera: Camera,
    items: Sequence[Projected],
    seen: Sequence[BaseGeometry],
    taken: Sequence[BaseGeometry],
    backs: Backs,
) -> list[PlacedArrow]:
    """One arrow for each fold, at most ``MOST_ARROWS``: the folds whose moving facets show
    best, in the order of the motion. ``taken`` is where arrows lie already. An arrow goes as
    the hand does as seen: towards the viewer, valley, or away."""
    moving = frozenset(motion.moving)
    area = {item.actor.id: seen[k] for k, item in enumerate(items) if not item.ghost}
    chosen: list[tuple[float, int, Hinge, Bend]] = []
    told = [f for f in motion.folds if not motion.shown or f[0] in motion.shown]
    for order, (name, start, end) in enumerate(told):
        hinges = [
            h
            for h, _ in shape.hinges
            if h.fold == name and ((h.child in moving) != (h.parent in moving) or h.child in moving)
        ]
        if not hinges:
            continue
        best = max(hinges, key=lambda h: float(np.hypot(*np.subtract(h.end, h.start))))
        facet = turning_facet(shape, best, moving)
        bend = as_seen(shape.piece.fold(name).bend, motion.body, name, backs)
        if end < start:  # unfolding goes the other way
            bend = other(bend)
        chosen.append((-round(area[(motion.body, facet)].area, 0), order, best, bend))
    chosen = sorted(sorted(chosen)[:MOST_ARROWS], key=lambda c: c[1])

    placed: list[PlacedArrow] = []
    unseen: list[PlacedArrow] = []
    for _, order, hinge, bend in chosen:
        options = []
        for preference, at in enumerate(_ALONG_HINGE):
            found = travelled(shape, hinge, moving, at, stage.angles[motion.body])
            if found is None:
                continue
            facet, flat = found
            path = camera.project(fold_path(stage, motion, shape, hinge, flat))
            length = float(distances(path[:, :2])[-1])
            if length < 0.4:
                continue
            tail = shapely.Point(path[0, :2])
            own = [
                area[motion.body, facet],
                *(area[i] for i in _laid_on(stage, motion.body, facet)),
            ]
            tail_seen = bool(shapely.dwithin(own, tail, 0.2).any())
            for shorter, wanted in enumerate((WANTED_MM, SHORTEST_MM)):
                drawn = path
                if length < wanted:
                    drawn = path[0] + (path - path[0]) * (wanted / length)
                run = LineString(drawn[:, :2])
                blocked = any(shapely.dwithin(run, halo, _BESIDE_MM) for halo in taken)
                options.append(((blocked, not tail_seen, shorter, preference), drawn))
            if tail_seen and not options[-2][0][0]:
                break
        if not options:
            continue
        (crowded, hidden, *_), path = min(options, key=lambda o: o[0])
        points = tuple((x, y) for x, y in path[:, :2].tolist())
        inked = shown_part(arrow(points, bend), path, items, seen)
        made = PlacedArrow(bend, motion.body, motion.folds[order][0], points, inked)
        # an arrow from behind other paper would seem to belong to that
        # and one upon another cannot be told from that
        x0, y0, x1, y1 = inked.ink.bounds
        scrap = float(np.hypot(x1 - x0, y1 - y0)) < SHORTEST_MM
        (unseen if hidden or crowded or scrap else placed).append(made)
        if not hidden and not crowded and not scrap:
            taken = [*taken, made.shape.halo]
    if placed:
        again = _hidden_alike(motion, placed[-1], told, shape, area)
        if again:
            last = placed[-1]
            drawn_again = repeated(last.shape, last.path, again)
            placed[-1] = replace(last, shape=drawn_again, again=again)
    return placed or unseen[:1]


def _hidden_alike(
    motion: FoldMotion,
    shown: PlacedArrow,
    told: Sequence[tuple[str, float, float]],
    shape: PieceShape,
    area: Mapping[FacetId, BaseGeometry],
) -> int:
    """How many folds of the same kind as one that has an arrow, foot 3 and foot 4 with foot 2, turn
    paper of which nothing is seen."""
    moving = frozenset(motion.moving)
    alike = {name: (_NUMBER.sub("", name), end - start) for name, start, end in told}
    count = 0
    for name, kind in alike.items():
        if name != shown.name and kind == alike.get(shown.name) and name in shape.of_fold:
            facet = turning_facet(shape, shape.of_fold[name], moving)
            count += area[motion.body, facet].area < _UNSEEN_MM2
    return count


def _laid_on(stage: Stage, body: str, facet: str) -> list[FacetId]:
    """The facets of other bodies that lie on a facet, as a mat does: they turn with it."""
    found = []
    for first, second, _ in stage.above:
        for one, beside in ((first, second), (second, first)):
            if one == (body, facet) and beside[0] != body:
                found.append(beside)
    return found


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
                found.append(shapely.buffer(gap, _BESIDE_MM))
    return united(found)


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
    goal = many(seen[k] for k in rest)
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
        tip = start + way * ahead
        misses = not shapely.intersects_xy(goal, *tip).any()
        tail = start - way * back
        hides = shapely.intersection(LineString([tail, tip]), slots).length > _HIDES_MM
        over = shapely.intersection(LineString([start + way * 0.2, tip]), shown).length
        over = 0.0 if inside and order == 0 else over
        aside = abs(float(np.dot(start - middle, (-way[1], way[0]))))
        cost = (hides, misses, round(over / 2.0), order > 0, round(aside / 4.0), order)
        options.append((cost, start, tip))
    _, start, tip = min(options, key=lambda o: o[0])
    tail = start - way * back
    path = ((float(tail[0]), float(tail[1])), (float(tip[0]), float(tip[1])))
    return PlacedArrow("move", motion.bodies[0], motion.bodies[0], path, arrow(path, "move"))
