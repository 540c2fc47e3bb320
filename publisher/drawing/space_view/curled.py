"""The arrow of a panel that is curled: along the way of its free end."""

from __future__ import annotations

import math

import numpy as np

from publisher.assembly.types import FoldMotion
from publisher.drawing.space_view.arrows import ArrowKind, arrow
from publisher.drawing.space_view.camera import Camera
from publisher.drawing.space_view.motions import PlacedArrow
from publisher.drawing.space_view.opened import refolded
from publisher.drawing.space_view.relaxed import relaxed
from publisher.drawing.space_view.sides import Backs, as_seen
from publisher.drawing.space_view.stage import Stage
from publisher.geometry.measure import path_bounds
from publisher.geometry.path import Point
from publisher.geometry.space import Vector, lift
from publisher.model.types import Piece

_SHARE = 0.5  # of the whole way: an arrow all the way round would hide what it shows
_LOOKS = 30


def curls(motion: FoldMotion, piece: Piece) -> bool:
    """Whether a motion curls a panel: what it tells are bends."""
    return bool(motion.shown) and all(piece.fold(name).smooth for name in motion.shown)


def curl_arrow(motion: FoldMotion, stage: Stage, camera: Camera, backs: Backs) -> PlacedArrow:
    """From the middle of the free end along the first half of its way."""
    actors = stage.of(motion.body)
    piece = actors[0].piece
    poses = {actor.facet: actor.pose for actor in actors}
    still = next(name for name in poses if name not in motion.moving)
    panel = piece.fold(motion.shown[0]).child
    own = [f.name for f in piece.facets if f.panel == panel]
    far = max(own, key=lambda name: math.dist(_middle(piece, name), _middle(piece, still)))
    before = dict(stage.angles[motion.body])
    way: list[Vector] = []
    for k in range(_LOOKS + 1):
        share = _SHARE * k / _LOOKS
        now = {name: start + (end - start) * share for name, start, end in motion.folds}
        there = refolded(piece, poses, before | now, still)[far]
        way.append(there.apply(lift(_middle(piece, far))))
    path = relaxed(camera.project(np.array(way))[:, :2])
    points = tuple((float(x), float(y)) for x, y in path)
    name = motion.shown[0]
    kind: ArrowKind = as_seen(piece.fold(name).bend, motion.body, name, backs)
    return PlacedArrow(kind, motion.body, motion.shown[0], points, arrow(points, kind), curl=True)


def _middle(piece: Piece, facet: str) -> Point:
    x0, y0, x1, y1 = path_bounds(piece.facet(facet).region.outer)
    return ((x0 + x1) / 2.0, (y0 + y1) / 2.0)
