"""A flat tube that is to fill out is squeezed at its edges: arrows from both sides."""

from __future__ import annotations

import math

import numpy as np

from publisher.assembly.types import FoldMotion, Frame
from publisher.drawing.space_view.arrows import SHORTEST_MM, arrow
from publisher.drawing.space_view.camera import Camera
from publisher.drawing.space_view.fold_words import fold_name
from publisher.drawing.space_view.helped import middle_of
from publisher.drawing.space_view.lists import gathered, the
from publisher.drawing.space_view.motions import PlacedArrow
from publisher.drawing.space_view.stage import Stage
from publisher.model.types import Hinge, Piece

_SHUT_DEG = 179.0  # of the edges of a tube that lies flat
_OPENS_DEG = 5.0  # and so much they open, if it fills out
_LEAST_MM = 2.0  # edges nearer than this on paper lie one behind the other
_OFF_MM = 0.6  # between the tip of an arrow and the edge


def edges(frame: Frame, motion: FoldMotion, piece: Piece) -> list[Hinge]:
    """The two edges at which a flat tube is squeezed as its ends are folded in; none of what
    stands open, or lies flat in the end."""
    if not motion.shown:
        return []
    before, after = (dict(s.body(motion.body).angles) for s in (frame.before, frame.after))
    found = {
        hinge.fold: hinge
        for hinge in piece.hinges
        if abs(before.get(hinge.fold, 0.0)) > _SHUT_DEG
        and abs(before[hinge.fold]) - abs(after.get(hinge.fold, 0.0)) > _OPENS_DEG
    }
    return list(found.values()) if len(found) == 2 else []


def squeeze_words(frame: Frame, motion: FoldMotion, piece: Piece, whole: str) -> list[str]:
    """The sentence of the alternative text, if there is one."""
    names = sorted(fold_name(piece, piece.fold(h.fold)) for h in edges(frame, motion, piece))
    if not names:
        return []
    return [f"Squeeze {the([whole])} a little at the folds of {gathered(names)}: it opens."]


def squeeze_arrows(
    frame: Frame, motion: FoldMotion, piece: Piece, stage: Stage, camera: Camera
) -> list[PlacedArrow]:
    """The arrows towards both edges, from outside."""
    folds = edges(frame, motion, piece)
    if not folds:
        return []
    there = [stage.actor(motion.body, h.child).pose.apply(middle_of(h)) for h in folds]
    ends = camera.project(np.array(there))[:, :2]
    if math.dist(*ends) < _LEAST_MM:
        return []
    found = []
    for hinge, at, across in zip(folds, ends, ends[::-1], strict=True):
        way = (across - at) / math.dist(across, at)
        tail, tip = at - way * (SHORTEST_MM + 1.0 + _OFF_MM), at - way * _OFF_MM
        path = ((float(tail[0]), float(tail[1])), (float(tip[0]), float(tip[1])))
        found.append(PlacedArrow("move", motion.body, hinge.fold, path, arrow(path, "move")))
    return found
