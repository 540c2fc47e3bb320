"""Arrows of what is pushed out of the paper, from behind it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np
import shapely
from shapely import LineString
from shapely.geometry.base import BaseGeometry

from publisher.assembly.types import FoldMotion, Frame
from publisher.drawing.space_view.arrows import SHORTEST_MM, arrow
from publisher.drawing.space_view.camera import Camera
from publisher.drawing.space_view.helped import backed, helped, middle_of
from publisher.drawing.space_view.motions import (
    BESIDE_MM,
    MOVE_TAIL_MM,
    WANTED_MM,
    PlacedArrow,
)
from publisher.drawing.space_view.shapes import PieceShape
from publisher.drawing.space_view.stage import Stage
from publisher.geometry.space import add, dot, scaled, sub

_TAIL_MM = 2.6  # behind what is helped along
_LEAST_MM = 0.5  # what moves less on paper goes straight at the eye


def push_arrow(
    frame: Frame, stage: Stage, shapes: Mapping[str, PieceShape], camera: Camera
) -> PlacedArrow | None:
    """The arrow of what is pushed out: the way of the fold that changes over the most, drawn
    from behind it."""
    folds = [
        (round(abs(end - start), 3), motion.body, name)
        for motion in frame.motions
        if isinstance(motion, FoldMotion)
        for name, start, end in motion.folds
    ]
    named = {t.part for t in frame.action.subjects}
    if not folds:
        return None
    _, body, name = max(folds, key=lambda f: (f[2] in named, f[0]))
    shape = shapes[stage.of(body)[0].piece.name]
    return _from_behind(frame, stage, shape, camera, body, name, MOVE_TAIL_MM)


def help_arrows(
    frame: Frame,
    stage: Stage,
    shapes: Mapping[str, PieceShape],
    camera: Camera,
    taken: Sequence[BaseGeometry],
) -> list[tuple[PlacedArrow, bool]]:
    """The arrows of what is helped out as it follows, each with whether there is room for it
    beside what is ``taken`` and those before it."""
    found: list[tuple[PlacedArrow, bool]] = []
    off = list(taken)
    for motion in frame.motions:
        if not isinstance(motion, FoldMotion):
            continue
        shape = shapes[stage.of(motion.body)[0].piece.name]
        tail_mm = 0.0 if backed(frame, motion) else _TAIL_MM
        for name in helped(frame, motion, shape.piece):
            one = _from_behind(frame, stage, shape, camera, motion.body, name, tail_mm)
            if one is None:
                continue
            room = not shapely.dwithin(LineString(one.path), off, BESIDE_MM).any()
            found.append((one, room))
            off += [one.shape.halo] * room
    return found


def _from_behind(
    frame: Frame,
    stage: Stage,
    shape: PieceShape,
    camera: Camera,
    body: str,
    name: str,
    tail_mm: float,
) -> PlacedArrow | None:
    """The arrow along the way of a crease's middle, a stretch of it behind the paper."""
    hinge = shape.of_fold[name]
    here = stage.actor(body, hinge.child).pose
    start = here.apply(middle_of(hinge))
    end = frame.after.body(body).facet_pose(hinge.child).apply(middle_of(hinge))
    if frame.action.verb != "push":  # what is helped along sets out square to the paper
        off = dot(sub(end, start), here.normal)
        end = add(start, scaled(here.normal, off))
    ends = camera.project(np.array([start, end]))[:, :2]
    run = ends[1] - ends[0]
    length = float(np.hypot(*run))
    if length < _LEAST_MM:
        return None
    way = run / length
    ahead = max(length, WANTED_MM - tail_mm) if frame.action.verb == "push" else SHORTEST_MM
    tip, tail = ends[0] + way * ahead, ends[0] - way * tail_mm
    path = ((float(tail[0]), float(tail[1])), (float(tip[0]), float(tip[1])))
    return PlacedArrow("move", body, name, path, arrow(path, "move", tail_mm), behind=tail_mm)
