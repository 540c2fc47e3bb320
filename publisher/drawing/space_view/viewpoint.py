"""From where to look: one view for a booklet where it shows enough.

A few directions are tried for all frames. What counts is how much of the moving parts, the
fold lines, the glue and the arrow's path is seen; counts are coarse, and the first direction
that shows enough is taken, so that a small change of a size changes no view.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Mapping, Sequence, Set
from itertools import groupby

import numpy as np
import shapely
from msgspec import Struct
from shapely.geometry.base import BaseGeometry

from publisher.assembly.types import FacetId, FoldMotion, Frame, Mark, MoveMotion
from publisher.drawing.space_view.camera import Array, Camera, View, half_round
from publisher.drawing.space_view.clear import clear_facets
from publisher.drawing.space_view.shapes import PieceShape, zone_papers
from publisher.drawing.space_view.sight import Spots, sight_of
from publisher.drawing.space_view.stage import Actor, Stage
from publisher.drawing.space_view.turning import fold_path, travelled
from publisher.geometry.space import Vector, lift

# Not from 30 degrees aside, for there two sides of a hexagon are seen edge on.
VIEWS: tuple[View, ...] = (
    View(-28.0, 48.0),
    View(28.0, 48.0),
    View(-64.0, 42.0),
    View(64.0, 42.0),
    View(-28.0, 62.0),
    View(28.0, 62.0),
    View(152.0, 48.0),
    View(-152.0, 48.0),
)

_SAME = 0.12  # scores that differ by less are alike
_ENOUGH = 0.8  # the first view that shows as much on average is the booklet's
_BAD, _GOOD = 0.45, 0.75
_HEIGHTS_DEG = (26.0, 62.0)  # where a frame needs another height
_SLANT = math.sin(math.radians(20.0))  # glue seen more slantwise is only a line
_TURNS = (90.0, -90.0, 180.0)  # where a frame needs another side
_GLUE_SEEN, _HIDES_GLUE = 0.3, 0.4  # of glue that shows less a view is worth less


class Interest(Struct, frozen=True):
    """What a frame wants seen: points in space with the facet they lie on (-1 for none), and
    for each the direction from which it is seen best (zeros: any), and arrow paths."""

    points: Array
    owners: tuple[int, ...]
    facing: Array
    paths: tuple[Array, ...]


def _spread(shape: PieceShape, facet: str) -> list[tuple[float, float]]:
    """A few flat points well inside a facet."""
    paper = shape.facets[facet].paper
    x0, y0, x1, y1 = paper.bounds
    tries = [(0.5, 0.5), (0.2, 0.3), (0.8, 0.3), (0.2, 0.7), (0.8, 0.7)]
    points = [(x0 + (x1 - x0) * u, y0 + (y1 - y0) * v) for u, v in tries]
    inside = shapely.contains_xy(paper, np.array(points))
    return [p for p, ok in zip(points, inside, strict=True) if ok]


def interest(frame: Frame, stage: Stage, shapes: Mapping[str, PieceShape]) -> Interest:
    """The points and paths by which views of a frame are compared."""
    points: list[Vector] = []
    owners: list[int] = []
    facing: list[Vector] = []
    paths: list[Array] = []
    glue = [m for m in frame.motions if isinstance(m, Mark) and m.what in ("glue", "tape")]
    for index, actor in enumerate(stage.actors):
        shape = shapes[actor.piece.name]
        if actor.moving:
            for p in _spread(shape, actor.facet):
                points.append(actor.pose.apply(lift(p)))
                owners.append(index)
                facing.append((0.0, 0.0, 0.0))
        for mark in glue:
            if mark.body == actor.body:
                for p in _zone_points(shape, actor, mark):
                    points.append(actor.pose.apply(lift(p)))
                    owners.append(index)
                    side = 1.0 if mark.face == "front" else -1.0
                    n = actor.pose.normal
                    facing.append((n[0] * side, n[1] * side, n[2] * side))
    for motion in (*frame.motions, *stage.closing):
        if isinstance(motion, FoldMotion):
            shape = shapes[stage.of(motion.body)[0].piece.name]
            moving = frozenset(motion.moving)
            for name in motion.shown or [name for name, _, _ in motion.folds]:
                hinge = shape.of_fold.get(name)
                if hinge is None:
                    continue
                found = travelled(shape, hinge, moving, 0.5, stage.angles[motion.body])
                if found is not None and found[0] in moving:
                    paths.append(fold_path(stage, motion, shape, hinge, found[1], samples=4))
        elif isinstance(motion, MoveMotion) and motion.bodies[0] in stage.away:
            paths.append(np.array([stage.away[motion.bodies[0]], (0.0, 0.0, 0.0)]))
    return Interest(
        np.array(points).reshape(-1, 3),
        tuple(owners),
        np.array(facing).reshape(-1, 3),
        tuple(paths),
    )


def _zone_points(shape: PieceShape, actor: Actor, mark: Mark) -> list[tuple[float, float]]:
    panel = shape.piece.facet(actor.facet).panel
    zones = [z for z in shape.piece.glue_zones if z.name in mark.names and z.panel == panel]
    areas: list[BaseGeometry] = [*zone_papers(shape.piece, zones)]
    if not zones and panel in mark.names:
        areas = [shape.facets[actor.facet].paper]
    middles = [shapely.point_on_surface(area) for area in areas]
    return [(p.x, p.y) for p in middles]


def seen_points(
    points: Array,
    owners: Sequence[int],
    stage: Stage,
    shapes: Mapping[str, PieceShape],
    view: View,
    clear: Set[FacetId] = frozenset(),
) -> Array:
    """For each point 1 where no facet hides it, else 0. That on which it lies does not, nor what
    lies on a part that moves and goes with it, as a mat on a flap does, nor ``clear`` paper."""
    runs = [(owner, len(list(own))) for owner, own in groupby(owners)]
    on = [stage.actors[owner] for owner, _ in runs]
    spots = Spots(points, [count for _, count in runs], on, [False] * len(on))
    sight = sight_of(spots, stage.actors, shapes, view)
    moving = np.array([a.moving for a in stage.actors])
    bodies = np.array([a.body for a in stage.actors])
    own = np.array(owners)
    with_it = (bodies[:, None] != bodies[own]) | moving[:, None]
    hides = sight.hides & ~(sight.lies & with_it & moving[own])
    hides[[a.id in clear for a in stage.actors]] = False
    return np.asarray(1.0 - hides.any(axis=0))


def score(
    wanted: Interest,
    stage: Stage,
    shapes: Mapping[str, PieceShape],
    view: View,
    clear: Set[FacetId] = frozenset(),
) -> float:
    """How well a view shows a frame, 0 to 1, in twentieths; 1 where there is nothing to see."""
    parts: list[float] = []
    hides_glue = False
    camera = Camera(view, 1.0)
    if len(wanted.points):
        seen = seen_points(wanted.points, wanted.owners, stage, shapes, view, clear)
        turned = wanted.facing @ np.array(camera.toward)
        glued = np.abs(wanted.facing).sum(axis=1) > 0
        seen[turned < -1e-9] *= 0.5
        seen[glued] *= np.minimum(1.0, np.abs(turned[glued]) / _SLANT)
        hides_glue = bool(glued.any()) and float(seen[glued].mean()) < _GLUE_SEEN
        parts.append(float(seen.mean()))
    ratios = []
    for path in wanted.paths:
        true = float(np.linalg.norm(np.diff(path, axis=0), axis=1).sum())
        paper = camera.project(path)[:, :2]
        shown = float(np.linalg.norm(np.diff(paper, axis=0), axis=1).sum())
        if true > 1e-9:
            ratios.append(min(1.0, shown / true / 0.6))
    if ratios:
        parts.append(sum(ratios) / len(ratios))
    value = sum(parts) / len(parts) if parts else 1.0
    if hides_glue:
        value *= _HIDES_GLUE
    return round(value * 20.0) / 20.0


def choose_views(
    frames: Sequence[Frame], stages: Sequence[Stage], shapes: Mapping[str, PieceShape]
) -> list[View]:
    """A view for each frame: from the side from which the things in it were seen last, at first
    the booklet's. Where that shows too little it looks from lower or higher, and only where another
    side shows much more it goes round by quarters. Views are scored only as far as needed."""
    if not frames:
        return []
    wanted = [interest(f, s, shapes) for f, s in zip(frames, stages, strict=True)]
    scores: dict[tuple[int, View], float] = {}

    def scored(k: int, view: View) -> float:
        if (k, view) not in scores:
            scores[k, view] = score(wanted[k], stages[k], shapes, view)
            if scores[k, view] < _BAD:
                clear = clear_facets(frames[k], stages[k], shapes, view)
                if clear:
                    scores[k, view] = score(wanted[k], stages[k], shapes, view, clear)
        return scores[k, view]

    def mean(view: View) -> float:
        return sum(scored(k, view) for k in range(len(frames))) / len(frames)

    common = next((view for view in VIEWS if mean(view) >= _ENOUGH), None)
    if common is None:
        best = max(map(mean, VIEWS))
        common = next(view for view in VIEWS if mean(view) >= best - _SAME)
    chosen: list[View] = []
    last: dict[str, float] = {}
    for k, stage in enumerate(stages):
        sides = Counter(last[body] for body in stage.bodies if body in last)
        side = max(sides, key=lambda s: (sides[s], s == common.azimuth_deg), default=None)
        home = [View(common.azimuth_deg if side is None else side, e) for e in _heights(common)]
        view = next((v for v in home if scored(k, v) >= _BAD), None)
        if view is None:
            rest = [
                View(half_round(v.azimuth_deg + turn), v.elevation_deg)
                for turn in _TURNS
                for v in home
            ]
            best = max(scored(k, v) for v in rest)
            least = best - _SAME / 2 if best >= _GOOD else 0.0
            view = next(v for v in (rest if least else home) if scored(k, v) >= least)
        chosen.append(view)
        last |= dict.fromkeys(stage.bodies, view.azimuth_deg)
    return chosen


def _heights(view: View) -> tuple[float, ...]:
    """How high up may be looked from: as the view does, lower or higher."""
    return tuple(dict.fromkeys((view.elevation_deg, *_HEIGHTS_DEG)))


def spoken_view(view: View) -> str:
    """The view in words, for the alternative text."""
    height = "from high above" if view.elevation_deg > 50 else "from above at a slant"
    azimuth = math.radians(view.azimuth_deg)
    depth = "front" if math.cos(azimuth) > 0 else "back"
    side = "left" if math.sin(azimuth) < 0 else "right"
    return f"Seen {height}, from the {depth} {side}."
