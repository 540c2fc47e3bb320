"""What the caption of a picture speaks of: the parts that the picture names."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from msgspec.structs import replace

from publisher.assembly.types import FoldMotion, Frame
from publisher.drawing.space_view.fold_words import only_numbered, turned_name
from publisher.model.types import Action, Pattern, Piece, Target


def shown_action(pattern: Pattern, frame: Frame) -> Action:
    """The action of a frame, folds by the parts that turn. A band whose panels have only numbers
    is named itself, where none of its named parts is."""
    pieces = {p.name: p for p in pattern.pieces}
    subjects = [_by_turned(t, frame, pieces.get(t.piece)) for t in frame.action.subjects]
    return replace(
        frame.action,
        subjects=_findable(subjects, pieces),
        objects=_findable(frame.action.objects, pieces),
    )


def _by_turned(target: Target, frame: Frame, piece: Piece | None) -> Target:
    if piece is None or target.said or not target.part or target.kind not in ("fold", "panel"):
        return target
    bodies = {b.id for b in frame.before.bodies if b.piece == piece.name}
    for motion in frame.motions:
        if isinstance(motion, FoldMotion) and motion.body in bodies and not motion.shown:
            for name, _, _ in motion.folds:
                if target.part in (name, piece.fold(name).child):
                    return replace(target, said=turned_name(piece, motion, name))
    return target


def _findable(targets: Sequence[Target], pieces: Mapping[str, Piece]) -> tuple[Target, ...]:
    found: list[Target] = []
    for target in targets:
        piece = pieces.get(target.piece)
        if piece is None or not only_numbered(piece, target.said or target.part):
            found.append(target)
    for target in targets:
        if not any(t.piece == target.piece for t in found):
            found.append(replace(target, kind="piece", part="", said=""))
    return tuple(found)
