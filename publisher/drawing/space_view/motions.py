"""Where arrows go: the paths that parts travel, on paper."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from shapely import LineString, MultiLineString
from shapely.geometry.base import BaseGeometry

from publisher.assembly.types import Body, FoldMotion, Frame, MoveMotion
from publisher.drawing.space_view.arrows import ArrowKind, ArrowShape, arrow
from publisher.drawing.space_view.camera import Array, Camera
from publisher.drawing.space_view.shapes import PieceShape
from publisher.drawing.space_view.stage import Stage, fold_poses
from publisher.drawing.space_view.visible import Projected
from publisher.geometry.path import Point
from publisher.geometry.space import Pose, lift
from publisher.model.types import Bend, Hinge

MOST_ARROWS = 4
_SAMPLES = 15
_ALONG_HINGE = (0.5, 0.36, 0.64, 0.22, 0.78)  # where an arrow may start, best first
_OUT = 0.86  # how far out from the hinge the travelling point lies, as a part of the facet
_OUT_MOST = 1.35  # as far out as that where the arrow would be too short
_WANTED_MM = 6.5  # an arrow shorter than this is taken further out
_MOVE_TAIL_MM = 4.0
_MOVE_LONGEST_MM = 15.0
_NOTHING = MultiLineString()


@dataclass(frozen=True, slots=True)
class PlacedArrow:
    """An arrow on paper. ``name`` is the fold or the moving body."""

    kind: ArrowKind
    body: str
    name: str
    path: tuple[Point, ...]
    shape: ArrowShape


def travelled(
    shape: PieceShape, hinge: Hinge, moving: frozenset[str], at: float, out: float = _OUT
) -> tuple[str, Point] | None:
    """A point of the facet that turns about the hinge, straight out from the hinge at the
    part ``at`` of its length: the facet's name and the flat point. ``out`` is how far out, as a
    part of the facet; beyond 1 the point is one that the facet carries with it."""
    child = hinge.child in moving
    facet = hinge.child if child else hinge.parent
    start, end = np.array(hinge.start), np.array(hinge.end)
    along = (end - start) / np.hypot(*(end - start))
    # start -> end has the parent on its right as seen with y down, the child on its left
    aside = np.array([along[1], -along[0]]) * (1.0 if child else -1.0)
    foot = start + (end - start) * at + aside * 0.01
    ray = LineString([foot, foot + aside * 1e4])
    parts = shapely.get_parts(shapely.intersection(ray, shape.facets[facet].paper))
    nearest = min(parts, key=lambda p: p.distance(shapely.Point(foot)), default=None)
    if nearest is None or nearest.length < 0.5:
        return None
    point = foot + aside * nearest.length * out
    return facet, (float(point[0]), float(point[1]))


def fold_paths(
    stage: Stage, motion: FoldMotion, shape: PieceShape, samples: int = _SAMPLES
) -> list[dict[str, Pose]]:
    """World poses of the moving facets at even parts of the motion, from start to end."""
    actors = stage.of(motion.body)
    shown = Body(
        motion.body,
        shape.piece.name,
        1,
        actors[0].pose,
        tuple(stage.angles[motion.body].items()),
        tuple((a.facet, a.pose) for a in actors),
        True,
    )
    steps = [fold_poses(shape.piece, motion, shown, k / samples) for k in range(samples + 1)]
    return [s for s in steps if s is not None]


def _point_path(steps: Sequence[dict[str, Pose]], facet: str, flat: Point, camera: Camera) -> Array:
    return camera.project(np.array([poses[facet].apply(lift(flat)) for poses in steps]))[:, :2]


def fold_arrows(
    motion: FoldMotion,
    stage: Stage,
    shape: PieceShape,
    camera: Camera,
    items: Sequence[Projected],
    seen: Sequence[BaseGeometry],
    taken: BaseGeometry,
) -> list[PlacedArrow]:
    """One arrow for each fold, at most ``MOST_ARROWS``: the folds whose moving facets show
    best, in the order of the motion. ``taken`` is where arrows lie already."""
    moving = frozenset(motion.moving)
    steps = fold_paths(stage, motion, shape)
    if not steps:
        return []
    area = {item.actor.id: seen[k] for k, item in enumerate(items) if not item.ghost}
    chosen: list[tuple[float, int, Hinge, Bend]] = []
    for order, (name, start, end) in enumerate(motion.folds):
        hinges = [
            h
            for h, _ in shape.hinges
            if h.fold == name and ((h.child in moving) != (h.parent in moving) or h.child in moving)
        ]
        if not hinges:
            continue
        best = max(hinges, key=lambda h: float(np.hypot(*np.subtract(h.end, h.start))))
        facet = best.child if best.child in moving else best.parent
        bend = shape.piece.fold(name).bend
        if end < start:  # unfolding goes the other way
            bend = "valley" if bend == "mountain" else "mountain"
        chosen.append((-round(area[(motion.body, facet)].area, 0), order, best, bend))
    chosen = sorted(sorted(chosen)[:MOST_ARROWS], key=lambda c: c[1])

    placed: list[PlacedArrow] = []
    for _, order, hinge, bend in chosen:
        options = []
        for preference, at in enumerate(_ALONG_HINGE):
            found = travelled(shape, hinge, moving, at)
            if found is None:
                continue
            facet, flat = found
            path = _point_path(steps, facet, flat, camera)
            length = LineString(path).length
            if length < 0.4:
                continue
            tail_seen = area[(motion.body, facet)].intersects(shapely.Point(path[0]).buffer(0.2))
            if length < _WANTED_MM:
                out = min(_OUT_MOST, _OUT * _WANTED_MM / length)
                facet, flat = travelled(shape, hinge, moving, at, out) or (facet, flat)
                path = _point_path(steps, facet, flat, camera)
            made = arrow([(float(x), float(y)) for x, y in path], bend)
            blocked = made.halo.intersects(taken)
            options.append(((blocked, not tail_seen, preference), path, made))
            if tail_seen and not blocked:
                break
        if not options:
            continue
        _, path, made = min(options, key=lambda o: o[0])
        points = tuple((float(x), float(y)) for x, y in path)
        placed.append(PlacedArrow(bend, motion.body, motion.folds[order][0], points, made))
        taken = shapely.union(taken, made.halo)
    return placed


def move_arrow(
    motion: MoveMotion, camera: Camera, items: Sequence[Projected]
) -> PlacedArrow | None:
    """The arrow of bodies that travel: from their leading edge along the path."""
    own = [
        item.area for item in items if item.actor.body in motion.bodies and not item.ghost
    ]
    offsets = np.array(motion.path) - np.array(motion.path[0])
    run = camera.project(offsets)[:, :2]
    travel = LineString(run).length if len(run) > 1 else 0.0
    if travel < 0.5 or not own:
        return None
    shape = shapely.union_all(own)
    middle = np.array(shapely.get_coordinates(shapely.centroid(shapely.envelope(shape)))[0])
    first = next(p for p in run[1:] if np.hypot(*p) > 1e-6)
    way = first / np.hypot(*first)
    ray = LineString([middle, middle + way * 1e3])
    crossed = shapely.intersection(ray, shape)
    lead = max(
        (float((np.array(c) - middle) @ way) for c in shapely.get_coordinates(crossed)),
        default=0.0,
    )
    edge = middle + way * lead
    tail = min(_MOVE_TAIL_MM, lead)
    ahead = min(travel * 0.9, _MOVE_LONGEST_MM - tail)
    if len(run) == 2 or ahead < travel * 0.9:
        points = [edge - way * tail, edge + way * ahead]
    else:
        points = [edge - way * tail, *(edge + p * 0.9 for p in run)]
    path = tuple((float(x), float(y)) for x, y in points)
    return PlacedArrow("move", motion.bodies[0], motion.bodies[0], path, arrow(path, "move"))


def all_arrows(
    frame: Frame,
    stage: Stage,
    shapes: dict[str, PieceShape],
    camera: Camera,
    items: Sequence[Projected],
    seen: Sequence[BaseGeometry],
) -> list[PlacedArrow]:
    """The arrows of one frame, never more than ``MOST_ARROWS``."""
    placed: list[PlacedArrow] = []
    for motion in frame.motions:
        if isinstance(motion, FoldMotion):
            shape = shapes[stage.of(motion.body)[0].piece.name]
            taken = shapely.union_all([a.shape.halo for a in placed]) if placed else _NOTHING
            placed += fold_arrows(motion, stage, shape, camera, items, seen, taken)
        elif isinstance(motion, MoveMotion):
            made = move_arrow(motion, camera, items)
            if made is not None:
                placed.append(made)
    return placed[:MOST_ARROWS]

