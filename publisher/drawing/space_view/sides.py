"""From which side of the paper a fold is seen: what is a mountain on one side is a valley on the
other, and hands go by what is seen."""

from __future__ import annotations

from collections.abc import Sequence, Set

from publisher.assembly.types import FoldMotion, Frame, Mark
from publisher.drawing.space_view.projected import Projected
from publisher.drawing.space_view.stage import Stage
from publisher.model.types import Bend, Hinge

Backs = Set[tuple[str, str]]
"""Folds (body, fold) whose back is seen."""


def other(bend: Bend) -> Bend:
    return "valley" if bend == "mountain" else "mountain"


def as_seen(bend: Bend, body: str, fold: str, backs: Backs) -> Bend:
    """What a fold looks like: bends are told of the front face."""
    return other(bend) if (body, fold) in backs else bend


def seen_backs(frame: Frame, stage: Stage, items: Sequence[Projected]) -> Backs:
    """The folds of the bodies that act whose back is seen: that of the paper which stands
    still, or of what moves where the other is seen edge-on."""
    by_id = {item.actor.id: item for item in items if not item.ghost}
    moving = {item.actor.id for item in items if item.actor.moving}
    acting = {m.body for m in (*frame.motions, *stage.closing) if isinstance(m, FoldMotion | Mark)}
    found: set[tuple[str, str]] = set()
    for body in sorted(acting & set(stage.bodies)):
        for fold, hinge in _of_folds(stage.of(body)[0].piece.hinges).items():
            beside = [
                by_id[body, name]
                for name in (hinge.parent, hinge.child)
                if (body, name) in by_id and by_id[body, name].plane is not None
            ]
            nearest = min(beside, key=lambda i: i.actor.id in moving, default=None)
            if nearest is not None and nearest.face == "back":
                found.add((body, fold))
    return found


def _of_folds(hinges: Sequence[Hinge]) -> dict[str, Hinge]:
    """The first hinge of each fold."""
    return {hinge.fold: hinge for hinge in reversed(hinges)}
