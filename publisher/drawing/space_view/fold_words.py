"""What folds are called, and which of a motion's the maker makes."""

from __future__ import annotations

import re

from publisher.assembly.types import FoldMotion, Frame
from publisher.drawing.space_view.shapes import piece_shape
from publisher.drawing.space_view.turning import turning_facet
from publisher.model.types import BandOf, Fold, Piece

_NUMBERED = re.compile(r"panel \d+")


def fold_name(piece: Piece, fold: Fold) -> str:
    """What a fold is called: the panel that it turns, or its own name where several turn parts
    of that panel."""
    several = sum(other.child == fold.child for other in piece.folds) > 1
    return fold.name if several else fold.child


def only_numbered(piece: Piece, panel: str) -> bool:
    """Whether a panel has no more than the number that a band's panels are given: nobody finds
    that on the paper."""
    return isinstance(piece.derived, BandOf) and _NUMBERED.fullmatch(panel) is not None


def turned_panel(piece: Piece, motion: FoldMotion, name: str) -> str:
    """The panel that turns about a fold: of two that travel the one farther from what stands
    still."""
    hinge = piece_shape(piece).of_fold.get(name)
    if hinge is None:
        return piece.fold(name).child
    facet = turning_facet(piece_shape(piece), hinge, frozenset(motion.moving))
    return piece.facet(facet).panel


def turned_name(piece: Piece, motion: FoldMotion, name: str) -> str:
    """What a fold that a motion makes is called: the panel that turns about it, or the fold's
    own name where several turn parts of one panel."""
    called = fold_name(piece, piece.fold(name))
    return turned_panel(piece, motion, name) if called == piece.fold(name).child else called


def driven(frame: Frame, motion: FoldMotion, piece: Piece) -> list[str]:
    """The folds of a motion that the maker makes, in its order; the rest follow of themselves.
    All of them where the action names none."""
    named: set[str] = set()
    for target in frame.action.subjects:
        if target.piece == piece.name and target.kind in ("fold", "panel", "edge"):
            named |= {
                f.name for f in piece.folds if target.part in (f.name, f.child) or target.part == ""
            }
    own = [name for name, _, _ in motion.folds if name in named]
    return own or [name for name, _, _ in motion.folds]
