"""What the hand must help on its way, though it hangs on what is folded.

Paper that is linked in a ring and lies flat may go either way as the ring is folded: along with
the sheet, or out of it. It goes along by itself. Where it is to stand out in the end, within the
angle of the fold that is made, somebody pushes it at the start.
"""

from __future__ import annotations

import math

from publisher.assembly.types import FoldMotion, Frame
from publisher.drawing.space_view.shapes import PieceShape, piece_shape
from publisher.drawing.space_view.turning import turning_facet
from publisher.geometry.space import Vector, dot, lift, sub
from publisher.model.types import Hinge, Piece

_FLAT_DEG = 0.5
_LEAST_SHARE = 0.5  # of the fold that is made: what bends less only gives way
_OUT_MM = 1.0  # so far at least from both panels of the fold that is made


def helped(frame: Frame, motion: FoldMotion, piece: Piece) -> list[str]:
    """The folds at which what follows is to be pushed out, in the order of the motion."""
    shape = piece_shape(piece)
    if not linked(piece) or motion.shown or frame.action.verb == "push":
        return []
    main, start, end = max(motion.folds, key=lambda f: moved_area(shape, f[0], motion))
    if abs(start) > _FLAT_DEG or main not in shape.of_fold:
        return []
    hinge, inside = shape.of_fold[main], _sense(piece, main, start, end)
    after = frame.after.body(motion.body)
    panels = [after.facet_pose(facet) for facet in (hinge.parent, hinge.child)]
    least = _LEAST_SHARE * abs(end - start)
    found = []
    for name, before, then in motion.folds:
        if name not in shape.of_fold or abs(before) > _FLAT_DEG or abs(then) < least:
            continue
        if _sense(piece, name, before, then) * inside >= 0.0:
            continue
        own = shape.of_fold[name]
        at = after.facet_pose(own.child).apply(middle_of(own))
        if all(dot(sub(at, p.shift), p.normal) * inside > _OUT_MM for p in panels):
            found.append(name)
    return found


def backed(frame: Frame, motion: FoldMotion) -> bool:
    """Whether other paper is glued or taped to what folds: nobody comes to its far side, and what
    is to stand out is drawn out by its open sides."""
    return any(
        motion.body in (bond.first[0], bond.second[0]) and bond.first[0] != bond.second[0]
        for bond in frame.before.bonds
    )


def linked(piece: Piece) -> bool:
    """Whether straight folds of a piece run in rings, so that some follow others."""
    return len(piece.hinges) >= len(piece.facets) and not any(f.smooth for f in piece.folds)


def _sense(piece: Piece, fold: str, start: float, end: float) -> float:
    """To which face of the paper a fold bends: +1 to the front."""
    way = 1.0 if piece.fold(fold).bend == "valley" else -1.0
    return math.copysign(way, way * (end - start))


def middle_of(hinge: Hinge) -> Vector:
    """The middle of a crease, on the flat piece."""
    (x0, y0), (x1, y1) = hinge.start, hinge.end
    return lift(((x0 + x1) / 2.0, (y0 + y1) / 2.0))


def moved_area(shape: PieceShape, fold: str, motion: FoldMotion) -> float:
    """How large the facet is that turns about a fold, to the nearest mm2; nothing where the fold
    has no paper at it."""
    if fold not in shape.of_fold:
        return 0.0
    facet = turning_facet(shape, shape.of_fold[fold], frozenset(motion.moving))
    return round(float(shape.facets[facet].paper.area), 0)
