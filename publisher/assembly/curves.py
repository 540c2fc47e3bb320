"""Which words of a step mean a curved score; small, so that other folds load no more."""

from __future__ import annotations

from publisher.assembly.kit import Kit
from publisher.geometry.path import Arc
from publisher.model.types import Piece, Score, Target


def curved_scores(piece: Piece) -> dict[str, Score]:
    """Scores that serve no fold and are no straight line, by name."""
    return {
        s.name: s
        for s in piece.scores
        if s.fold is None and any(isinstance(part, Arc) for part in s.path.segments)
    }


def along_a_curve(kit: Kit, target: Target) -> bool:
    """Whether a target is a curved score."""
    piece = kit.pieces.get(target.piece)
    return piece is not None and target.kind == "fold" and target.part in curved_scores(piece)
