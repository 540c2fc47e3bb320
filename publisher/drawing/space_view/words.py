"""Alternative text, from the same data as the picture: who follows it by ear can make it.

Equal acts are told as one; sides and ways are those of the maker at the table.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import groupby

from msgspec.structs import replace

from publisher.assembly.types import FoldMotion, Frame, Mark, MoveMotion, TurnMotion
from publisher.drawing.space_view.camera import View
from publisher.drawing.space_view.hands import by_hands
from publisher.drawing.space_view.lists import gathered, the
from publisher.drawing.space_view.lying_words import Heard, lying
from publisher.drawing.space_view.place_words import angle, body_name, heading
from publisher.drawing.space_view.seated import from_seat, seated, seated_ways
from publisher.drawing.space_view.shapes import PieceShape
from publisher.drawing.space_view.spared import Spared, spared_words
from publisher.drawing.space_view.stage import Stage
from publisher.drawing.space_view.told_folds import fold_sentences
from publisher.drawing.space_view.told_glue import glue_sentences
from publisher.drawing.space_view.told_marks import mark_sentences
from publisher.drawing.space_view.told_moves import move_sentences
from publisher.drawing.space_view.told_turns import turn_sentences
from publisher.drawing.space_view.viewpoint import spoken_view
from publisher.model.types import Pattern, Piece

__all__ = ["alt_text", "angle", "body_name", "heading"]

_LARGER = (
    "",
    "One place is drawn larger.",
    "Places are drawn larger.",
)
SEATED = "Left, right, near and far are as you sit at the table."


def _kind(motion: FoldMotion | MoveMotion | TurnMotion | Mark) -> str:
    if isinstance(motion, Mark):
        return "glue" if motion.what in ("glue", "tape") else "mark"
    return type(motion).__name__


def _acts(
    pattern: Pattern,
    frame: Frame,
    stage: Stage,
    pieces: Mapping[str, Piece],
    made: Mapping[str, Sequence[str]] | None,
) -> Iterator[str]:
    """What is done, in order."""
    ruler = pattern.meta.ruler
    for _, group in groupby(frame.motions, _kind):
        own = list(group)
        marks = [m for m in own if isinstance(m, Mark)]
        if marks and _kind(marks[0]) == "glue":
            yield from glue_sentences(frame, marks, pieces, ruler)
            continue
        for mark in marks:
            yield from mark_sentences(frame, mark, pieces)
        moves = [m for m in own if isinstance(m, MoveMotion)]
        yield from move_sentences(frame, moves, stage, pieces, ruler)
        for motion in sorted(own, key=lambda m: isinstance(m, FoldMotion) and _follows(m, made)):
            if isinstance(motion, FoldMotion):
                yield from fold_sentences(frame, motion, pieces, made)
            elif isinstance(motion, TurnMotion):
                yield from turn_sentences(frame, motion, pieces)


def _follows(motion: FoldMotion, made: Mapping[str, Sequence[str]] | None) -> bool:
    return made is not None and motion.body not in made


def _seen_through(stage: Stage) -> list[str]:
    """What is drawn on the front of a piece that is laid good side down."""
    found = []
    for body in stage.away:
        actors = stage.of(body)
        piece = actors[0].piece if actors else None
        drawn = piece is not None and any(m.kind != "register" for m in piece.marks)
        if piece is not None and drawn and all(a.pose.normal[2] < -0.99 for a in actors):
            found.append(
                f"What is drawn on the front of the {body_name(piece, body)} lies on the side "
                "turned away and is seen through the paper: it tells which end is which."
            )
    return found


def _opened(stage: Stage, pieces: Mapping[str, Piece]) -> list[str]:
    sentences = []
    for motion in stage.closing:
        piece = pieces[motion.body]
        names = [name for name, _, _ in motion.folds]
        moving = [
            piece.facet(f).panel
            for h in piece.hinges
            for f in (h.child, h.parent)
            if h.fold in names and f in motion.moving
        ]
        whole = body_name(piece, motion.body)
        sentences.append(
            f"To reach it open {gathered(moving)} of {the([whole])} again; then close "
            f"{'it' if len(set(moving)) == 1 else 'them'} and press the parts together."
        )
    return sentences


def alt_text(
    pattern: Pattern,
    shown: Frame,
    stage: Stage,
    view: View,
    picture: str,
    said: Heard,
    made: Mapping[str, Sequence[str]] | None = None,
    free: Sequence[Spared] = (),
    more: Sequence[str] = (),
) -> str:
    """What to do, how things lie before it, how it is drawn (``picture``). ``made`` are the folds
    that hands make, by body; ``more`` are sentences on what else the picture shows."""
    frame = seated(shown, view)
    stage = replace(stage, away=seated_ways(stage.away, view))
    by_name = {p.name: p for p in pattern.pieces}
    pieces = {b.id: by_name[b.piece] for b in frame.before.bodies}
    sentences = [*_acts(pattern, frame, stage, pieces, made)]
    sentences += spared_words(free, pieces, frame.before)
    sentences += _opened(stage, pieces)
    sentences += _seen_through(stage)
    if not frame.motions:
        what = gathered(t.said or t.part or t.piece for t in frame.action.subjects)
        order = " ".join(word for word in (frame.action.verb.capitalize(), what) if word)
        sentences.append(f"{order}: nothing moves in this picture.")
    lies = lying(frame, stage.bodies, pieces, said)
    if lies:
        sentences.append(f"Before this, {lies}.")
    sentences += more
    if said.first and picture:
        sentences.append(SEATED)
    return " ".join(dict.fromkeys([*sentences, picture])).strip()


def of_picture(
    pattern: Pattern,
    frame: Frame,
    stage: Stage,
    shapes: Mapping[str, PieceShape],
    view: View,
    said: Heard,
    rings: int,
    free: Sequence[Spared],
    more: Sequence[str],
) -> str:
    """The text of a picture with so many places shown larger; the view is told where it is
    another than before."""
    made: dict[str, list[str]] = {}
    for motion in by_hands(frame, shapes, stage):
        if isinstance(motion, FoldMotion):
            made.setdefault(motion.body, []).extend(name for name, _, _ in motion.folds)
    picture = [_LARGER[min(rings, 2)]] if rings else []
    if said.view:
        picture.append(spoken_view(from_seat(view)))
    return alt_text(pattern, frame, stage, view, " ".join(picture), said, made, free, more)
