"""What the hands do in a picture: which of its motions get an arrow.

Folds that run in rings follow each other; the hand turns one of them.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import shapely
from msgspec.structs import replace
from shapely.geometry.base import BaseGeometry

from publisher.assembly.types import FoldMotion, Frame, MoveMotion
from publisher.drawing.space_view.camera import Camera
from publisher.drawing.space_view.curled import curl_arrow, curls
from publisher.drawing.space_view.fold_arrows import barred, fold_arrows
from publisher.drawing.space_view.helped import moved_area
from publisher.drawing.space_view.motions import MOST_ARROWS, PlacedArrow, move_arrow
from publisher.drawing.space_view.projected import Projected
from publisher.drawing.space_view.pushed import help_arrows, push_arrow
from publisher.drawing.space_view.shapes import PieceShape
from publisher.drawing.space_view.sides import Backs
from publisher.drawing.space_view.squeezed import squeeze_arrows
from publisher.drawing.space_view.stage import Stage

_HIDES_SHARE = 0.3
_LEAST_SHARE = 0.05
"""Of what moves, so much at least must be seen of the paper that an arrow stands for."""


def hides(arrows: Sequence[PlacedArrow], area: BaseGeometry) -> bool:
    """Whether arrows hide too much of what they are about."""
    covered = sum(shapely.intersection(one.shape.halo, area).area for one in arrows)
    return bool(covered > _HIDES_SHARE * area.area)


def by_hands(
    frame: Frame, shapes: Mapping[str, PieceShape], stage: Stage
) -> list[FoldMotion | MoveMotion]:
    """The motions that hands make: of folds that run in rings those that the action names, or
    the one that moves the most where it names the piece. The others follow by themselves."""
    kept: list[FoldMotion | MoveMotion] = []
    turned = [m for m in frame.motions if isinstance(m, FoldMotion)]
    named = {t.part for t in frame.action.subjects if t.kind in ("fold", "panel")}
    whole = {t.piece for t in frame.action.subjects if t.kind == "piece"}
    pieces = {m.body: shapes[stage.of(m.body)[0].piece.name] for m in turned}
    ours = {t.piece for t in frame.action.subjects}
    own = [m for m in turned if pieces[m.body].piece.name in ours]
    for motion in frame.motions:
        if not isinstance(motion, FoldMotion):
            if isinstance(motion, MoveMotion):
                kept.append(motion)
            continue
        shape = pieces[motion.body]
        if len(shape.hinges) < len(shape.facets) and len(own) == len(turned):
            kept.append(motion)
            continue
        if own and motion not in own:
            continue
        if motion.shown:  # what bends says itself what is told of it
            kept.append(motion)
            continue
        folds = [f for f in motion.folds if f[0] in named]
        if not folds and shape.piece.name in whole:
            folds = [max(motion.folds, key=lambda f: moved_area(shape, f[0], motion))]
        kept.append(replace(motion, folds=tuple(folds) or motion.folds))
    return kept


def _on_top(
    frame: Frame,
    shapes: Mapping[str, PieceShape],
    motion: FoldMotion,
    stage: Stage,
    items: Sequence[Projected],
    seen: Sequence[BaseGeometry],
) -> FoldMotion:
    """The same motion, or that of the paper that lies on it and hides it: the arrow goes with the
    fold that is seen, and has its sign."""
    found = [motion]
    for other in frame.motions:
        if isinstance(other, FoldMotion) and other.body != motion.body and not other.shown:
            shape = shapes[stage.of(other.body)[0].piece.name]
            most = max(other.folds, key=lambda f: moved_area(shape, f[0], other))
            found.append(replace(other, folds=(most,)))
    shown = [
        sum(
            area.area
            for item, area in zip(items, seen, strict=True)
            if item.actor.body == m.body and item.actor.facet in m.moving and not item.ghost
        )
        for m in found
    ]
    if shown[0] > _LEAST_SHARE * sum(shown):
        return motion
    return found[max(range(len(found)), key=lambda k: (round(shown[k], 2), -k))]


def all_arrows(
    frame: Frame,
    stage: Stage,
    shapes: Mapping[str, PieceShape],
    camera: Camera,
    items: Sequence[Projected],
    seen: Sequence[BaseGeometry],
    backs: Backs,
) -> list[PlacedArrow]:
    """The arrows of one frame: for everything that hands do one, or a bar on one."""
    placed: list[PlacedArrow] = []
    if frame.action.verb == "push":
        pushed = push_arrow(frame, stage, shapes, camera)
        return [pushed] if pushed is not None else []
    told = [*by_hands(frame, shapes, stage), *stage.closing]
    moved = 0
    for told_motion in sorted(told, key=lambda m: isinstance(m, FoldMotion)):
        motion = told_motion
        if isinstance(motion, FoldMotion):
            motion = _on_top(frame, shapes, motion, stage, items, seen)
            shape = shapes[stage.of(motion.body)[0].piece.name]
            taken = [a.shape.halo for a in placed]
            if curls(motion, shape.piece):
                placed.append(curl_arrow(motion, stage, camera, backs))
                continue
            placed += fold_arrows(motion, stage, shape, camera, items, seen, taken, backs)
        elif isinstance(motion, MoveMotion):
            made = move_arrow(motion, stage, camera, items, seen)
            moved += made is not None
            if made is not None and moved <= MOST_ARROWS:
                placed.append(made)
    for told_motion in told:
        if isinstance(told_motion, FoldMotion):
            piece = stage.of(told_motion.body)[0].piece
            placed += squeeze_arrows(frame, told_motion, piece, stage, camera)
    halos = [one.shape.halo for one in placed]
    helps = help_arrows(frame, stage, shapes, camera, halos)
    shown = [one for one, room in helps if room][: max(0, MOST_ARROWS - len(placed))]
    if shown:
        shown[-1] = barred(shown[-1], len(helps) - len(shown))
    placed += shown
    if moved > MOST_ARROWS:
        placed[MOST_ARROWS - 1] = barred(placed[MOST_ARROWS - 1], moved - MOST_ARROWS)
    return placed
