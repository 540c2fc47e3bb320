"""Folds in words: which are made, which way and how far, and which only follow."""

from __future__ import annotations

from publisher.assembly.types import Body, FoldMotion, Frame
from publisher.drawing.space_view.bends import bent_words
from publisher.drawing.space_view.lists import the
from publisher.drawing.space_view.shapes import piece_shape
from publisher.drawing.space_view.sides import Backs, other
from publisher.drawing.space_view.turning import turning_facet
from publisher.geometry.measure import path_bounds
from publisher.geometry.space import Vector, lift, norm, scaled, sub
from publisher.model.types import Bend, Fold, Piece

_STILL_DEG = 0.5


def angle(degrees: float) -> str:
    return f"{degrees:.1f}".rstrip("0").rstrip(".") + " degrees"


def fold_name(piece: Piece, fold: Fold) -> str:
    """What a fold is called: the panel that it turns, or its own name where several turn parts
    of that panel."""
    several = sum(other.child == fold.child for other in piece.folds) > 1
    return fold.name if several else fold.child


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


def _middle(piece: Piece, facet: str, body: Body) -> Vector:
    x0, y0, x1, y1 = path_bounds(piece.facet(facet).region.outer)
    return body.facet_pose(facet).apply(lift(((x0 + x1) / 2, (y0 + y1) / 2)))


def _fold_way(piece: Piece, name: str, motion: FoldMotion, before: Body, after: Body) -> str:
    hinge = next((h for h in piece.hinges if h.fold == name), None)
    if hinge is None:
        return ""
    facet = hinge.child if hinge.child in motion.moving else hinge.parent
    start, end = _middle(piece, facet, before), _middle(piece, facet, after)
    run = sub(end, start)
    if norm(run) < 1e-6:
        return ""
    turned = next(abs(e - s) for n, s, e in motion.folds if n == name)
    if turned > 170.0:
        return "over, flat"
    if abs(run[2]) > 0.5 * norm(run):
        return "up" if run[2] > 0 else "down"
    middles = [_middle(piece, f.name, after) for f in piece.facets if f.name not in motion.moving]
    if not middles:
        return ""
    total = (sum(m[0] for m in middles), sum(m[1] for m in middles), sum(m[2] for m in middles))
    centre = scaled(total, 1.0 / len(middles))
    return "in" if norm(sub(end, centre)) < norm(sub(start, centre)) else "out"


def _bend(fold: Fold, turned: float) -> Bend:
    """As what a fold is bent: the other way round where its angle is below nothing."""
    if turned >= 0.0:
        return fold.bend
    return other(fold.bend)


_Key = tuple[str, str, Bend, float, float]


def _key(piece: Piece, motion: FoldMotion, name: str, before: Body, after: Body) -> _Key:
    """Way, kind, bend, from how far and to how far: folds alike are told together."""
    start, end = next((s, e) for n, s, e in motion.folds if n == name)
    way = _fold_way(piece, name, motion, before, after)
    fold = piece.fold(name)
    if start * end >= 0.0 and abs(end) < abs(start):
        return (way, "back", _bend(fold, start), round(abs(start), 3), round(abs(end), 3))
    kind = "through" if start * end < 0.0 else "on" if abs(start) > _STILL_DEG else "new"
    return (way, kind, _bend(fold, end), round(abs(start), 3), round(abs(end), 3))


def _sentence(key: _Key, names: list[str], whole: str) -> str:
    way, kind, bend, start, end = key
    towards = f" {way}" if way else ""
    if kind == "back":
        left = f", to {angle(end)}" if end > _STILL_DEG else ""
        return f"Unfold {the(names)} of the {whole}{towards} by {angle(start - end)}{left}."
    faces = "back" if bend == "mountain" else "front"
    meet = "come to lie on each other" if end > 170.0 else "turn towards each other"
    folds = f"{bend} fold{'s' if len(names) > 1 else ''}"
    if kind == "on":
        towards += f" by another {angle(end - start)}"
    elif kind == "through":
        towards = " through to the other side"
    return (
        f"Fold {the(names)} of the {whole}{towards}: "
        f"{folds} of {angle(end)}, so that the {faces} faces {meet}."
    )


def fold_words(frame: Frame, motion: FoldMotion, piece: Piece, whole: str) -> list[str]:
    """The sentences of a fold motion; ``whole`` is the name of the body."""
    if motion.shown:
        return bent_words(motion, piece, whole)
    before, after = frame.before.body(motion.body), frame.after.body(motion.body)
    made = driven(frame, motion, piece)
    groups: dict[_Key, list[str]] = {}
    for name in made:
        key = _key(piece, motion, name, before, after)
        groups.setdefault(key, []).append(turned_name(piece, motion, name))
    sentences = [_sentence(key, names, whole) for key, names in groups.items()]
    if frame.action.verb == "push":
        out = the(turned_name(piece, motion, name) for name in made)
        sentences.insert(0, f"Push {out} of the {whole} out from behind.")
    follow = [turned_name(piece, motion, n) for n, _, _ in motion.folds if n not in made]
    if follow:
        one = len(set(follow)) == 1
        sentences.append(
            f"{_capital(the(follow))} {'follows of itself' if one else 'follow of themselves'}."
        )
    moving = frozenset(motion.moving)
    along = {f.panel for f in piece.facets if f.name in moving}
    along -= {turned_panel(piece, motion, n) for n, _, _ in motion.folds}
    carried = [p.name for p in piece.panels if p.name in along]
    if carried:
        verb = "moves" if len(carried) == 1 else "move"
        sentences.append(f"{_capital(the(carried))} {verb} along.")
    return sentences


def side_words(frame: Frame, motion: FoldMotion, piece: Piece, backs: Backs) -> list[str]:
    """What the folds look like whose back is seen, for the picture draws them so."""
    looks: dict[Bend, list[str]] = {}
    turned = {name: end for name, start, end in motion.folds if abs(end) > abs(start)}
    told = motion.shown or driven(frame, motion, piece)
    for name in told:
        if name in turned and (motion.body, name) in backs:
            fold = piece.fold(name)
            called = fold.part_of or turned_name(piece, motion, name)
            looks.setdefault(other(_bend(fold, turned[name])), []).append(called)
    return [
        f"Seen from this side, {the(names)} "
        f"{f'folds as a {bend}' if len(set(names)) == 1 else f'fold as {bend}s'}."
        for bend, names in looks.items()
    ]


def _capital(text: str) -> str:
    return text[0].upper() + text[1:]
