"""How far from its place what travels is drawn, once the view and the scale are known: as far as
its own paper would else cover the place, and as a picture that keeps its scale has room for."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np
import shapely
import shapely.affinity
from msgspec.structs import replace
from shapely.geometry.base import BaseGeometry

from publisher.assembly.types import Frame, MoveMotion
from publisher.drawing.space_view.camera import Camera, View
from publisher.drawing.space_view.exploded import ALONG, let_down
from publisher.drawing.space_view.projected import carried
from publisher.drawing.space_view.scales import APART_ROOM_MM
from publisher.drawing.space_view.shapes import PieceShape
from publisher.drawing.space_view.stage import Actor, Stage
from publisher.geometry.space import Vector, add, moved, norm, scaled

_LITTLE = 0.06
"""Of its place so much may lie under what travels; our own choice, for the eye."""
_STEP_MM = 1.0  # on paper
_SAME_WAY = 6  # decimals


def drawn_farther(
    frame: Frame, stage: Stage, shapes: Mapping[str, PieceShape], view: View, scale: float
) -> Stage:
    """The stage with what is laid, set or let down drawn so much farther from its place that it
    covers little of it; as near as it was where that is little already."""
    bodies = {
        body
        for motion in frame.motions
        if isinstance(motion, MoveMotion)
        for body in motion.bodies
        if body in stage.away and (motion.manner not in ALONG or let_down(stage.away[body]))
    }
    ways: dict[Vector, list[str]] = {}
    for body in sorted(bodies):
        away = stage.away[body]
        x, y, z = (round(v / norm(away), _SAME_WAY) for v in away)
        ways.setdefault((x, y, z), []).append(body)
    for way, own in ways.items():
        far = _wanted(stage, own, way, shapes, Camera(view, scale))
        if far > 0.0:
            stage = _shifted(stage, own, scaled(way, far))
    return stage


def _wanted(
    stage: Stage,
    bodies: Sequence[str],
    way: Vector,
    shapes: Mapping[str, PieceShape],
    camera: Camera,
) -> float:
    """How much farther along a way bodies are to be drawn, mm in space."""
    x, y = camera.direction(way)
    along = float(np.hypot(x, y)) * camera.scale
    if along < _STEP_MM / 100.0:  # it comes straight from the eye
        return 0.0
    run = np.array((x, y)) / np.hypot(x, y)
    part = _hull([a for a in stage.actors if a.body in bodies], shapes, camera)
    place = _hull([g for g in stage.ghosts if g.body in bodies], shapes, camera)
    rest = _hull([a for a in stage.actors if a.body not in bodies], shapes, camera)
    if place.is_empty or part.is_empty:
        return 0.0
    standing = shapely.union(shapely.envelope(rest), shapely.envelope(place))
    tried: list[BaseGeometry] = [part]
    far = [0.0]
    while len(tried) == 1 or _fits(tried[-1], standing):
        far.append(far[-1] + _STEP_MM)
        tried.append(shapely.affinity.translate(part, *(run * far[-1]).tolist()))
    tried, far = tried[:-1], far[:-1]
    covered = shapely.area(shapely.intersection(tried, place)) / place.area
    if len(tried) < 2 or covered[0] <= _LITTLE:
        return 0.0
    enough = np.flatnonzero(covered <= max(_LITTLE, float(covered.min())))
    return far[int(enough[0])] / along


def _fits(part: BaseGeometry, standing: BaseGeometry) -> bool:
    x0, y0, x1, y1 = shapely.total_bounds([part, standing]).tolist()
    return bool(x1 - x0 <= APART_ROOM_MM[0] and y1 - y0 <= APART_ROOM_MM[1])


def _hull(
    actors: Sequence[Actor], shapes: Mapping[str, PieceShape], camera: Camera
) -> BaseGeometry:
    """What facets cover on paper, and what they stand round, as a handle does."""
    papers = [shapes[a.piece.name].facets[a.facet].paper for a in actors]
    maps = camera.flat_maps([a.pose for a in actors])
    return shapely.GeometryCollection(list(carried(papers, *maps))).convex_hull


def _shifted(stage: Stage, bodies: Sequence[str], by: Vector) -> Stage:
    carry = moved(by)
    actors = tuple(
        replace(a, pose=carry.after(a.pose)) if a.body in bodies else a for a in stage.actors
    )
    away = {body: add(far, by) if body in bodies else far for body, far in stage.away.items()}
    return replace(stage, actors=actors, away=away)
