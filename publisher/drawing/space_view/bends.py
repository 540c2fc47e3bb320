"""What bends as one: where it is whole, the names of its parts, and its words."""

from __future__ import annotations

import math

from publisher.assembly.types import FoldMotion
from publisher.drawing.space_view.lists import gathered, the
from publisher.drawing.space_view.projected import Projected
from publisher.geometry.space import lift
from publisher.model.types import Hinge, Piece

_ROUND_DEG = 300.0
"""Strips that turn by more in all go round: those of a cone turn by less than 360 degrees."""

_WHOLE_MM = 0.01


def squeezed(hinge: Hinge, one: Projected, other: Projected) -> bool:
    """Whether the strips at a bend that both show the same face lie a little over each other
    there, as those of a flap do while it snaps in: the paper is whole, and has no edge."""
    if one.plane is None or other.plane is None or one.face != other.face:
        return False
    ends = (lift(hinge.start), lift(hinge.end))
    poses = one.actor.pose, other.actor.pose
    return any(math.dist(*(pose.apply(end) for pose in poses)) > _WHOLE_MM for end in ends)


def flaps(piece: Piece, motion: FoldMotion) -> dict[str, list[str]]:
    """The flaps that a motion folds along curves, each with its facets."""
    names = list(dict.fromkeys(piece.fold(n).part_of for n in motion.shown))
    return {
        name: [f for f in motion.moving if f.rpartition(" strip ")[0] == name]
        for name in names
        if name
    }


def _curl_words(motion: FoldMotion, piece: Piece, whole: str) -> str:
    fold = piece.fold(motion.shown[0])
    faces = "back" if fold.bend == "mountain" else "front"
    panels = [p.name for p in piece.panels if p.kind == "panel"]
    what = f"the {whole}" if panels == [whole] else f"{the([fold.child])} of the {whole}"
    strips = sum(f.panel == fold.child for f in piece.facets)
    each = next(end for name, _, end in motion.folds if name == fold.name)
    how = f"by {round(each * (strips - 1))} degrees"
    if each * strips > _ROUND_DEG or any(not piece.fold(n).smooth for n, _, _ in motion.folds):
        how = "all the way round, until its ends meet"
    return f"Curl {what} evenly, its {faces} face inside, {how}."


def bent_words(motion: FoldMotion, piece: Piece, whole: str) -> list[str]:
    """Flaps along curves, with how the panels follow."""
    names = list(flaps(piece, motion))
    if not names:
        return [_curl_words(motion, piece, whole)]
    faces = "back" if piece.fold(motion.shown[0]).bend == "mountain" else "front"
    lines = "curve" if len(names) == 1 else "curves"
    panels = [p.name for p in piece.panels if p.kind == "panel"]
    follow = f"the {whole} bends"
    if len(panels) > 1:
        follow = f"{gathered(panels)} bend and the {whole} fills out"
    they = "it goes" if len(names) == 1 else "they go"
    return [
        f"Fold {gathered(names)} of the {whole} inwards along the {lines}, {faces} faces inside.",
        f"As {they} in, {follow}.",
    ]
