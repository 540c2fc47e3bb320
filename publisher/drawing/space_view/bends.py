"""What bends as one: the names of its parts, and its words."""

from __future__ import annotations

from publisher.assembly.types import FoldMotion
from publisher.drawing.space_view.lists import the
from publisher.model.types import Piece


def flaps(piece: Piece, motion: FoldMotion) -> dict[str, list[str]]:
    """The flaps that a motion folds along curves, each with its facets."""
    names = list(dict.fromkeys(piece.fold(n).part_of for n in motion.shown))
    return {
        name: [f for f in motion.moving if f.rpartition(" strip ")[0] == name]
        for name in names
        if name
    }


def bent_words(motion: FoldMotion, piece: Piece, whole: str) -> list[str]:
    """Flaps along curves, with how the panels follow."""
    names = list(flaps(piece, motion))
    if not names:
        return []
    kind = piece.fold(motion.shown[0]).bend
    faces = "back" if kind == "mountain" else "front"
    lines = "curve" if len(names) == 1 else "curves"
    panels = [p.name for p in piece.panels if p.kind == "panel"]
    follow = f"the {whole} bends"
    if len(panels) > 1:
        follow = f"{the(panels)} bend and the {whole} fills out"
    folds = f"{kind} fold{'s' if len(names) > 1 else ''}"
    they = "it goes" if len(names) == 1 else "they go"
    return [
        f"Fold {the(names)} of the {whole} in, along the {lines}: {folds}, so that the {faces}"
        f" faces turn towards each other. As {they} in, {follow}."
    ]
