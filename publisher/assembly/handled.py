"""The pattern as hands take it up: its pieces, and whatever else takes part in the steps."""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import Struct
from msgspec.structs import replace

from publisher.assembly.contents import contents_of
from publisher.assembly.thread import in_stretches, threaded
from publisher.assembly.tongues import foot_name, lifted_under, with_tongues
from publisher.model.types import Bend, Pattern


class Handled(Struct, frozen=True):
    """``things`` are the pieces of ``pattern`` that are no paper. ``smooth`` are folds that are
    no lines, (piece, fold): where a curled panel is cut into strips, and at the foot of a
    tongue."""

    pattern: Pattern
    things: tuple[str, ...] = ()
    smooth: tuple[tuple[str, str], ...] = ()


def handled(pattern: Pattern) -> Handled:
    """The same pattern where its steps move nothing but its pieces as they are."""
    contents = contents_of(pattern)
    curled = list(dict.fromkeys(_curled(pattern)))
    tongues = list(dict.fromkeys(lifted_under(pattern)))
    bent = list(dict.fromkeys(_bent(pattern)))
    strips = dict(threaded(pattern))
    if not contents and not curled and not tongues and not bent and not strips:
        return Handled(pattern)
    pieces = {piece.name: piece for piece in (*pattern.pieces, *contents)}
    smooth: list[tuple[str, str]] = []
    for piece_name, slit in tongues:
        pieces[piece_name] = with_tongues(pieces[piece_name], [slit])
        smooth.append((piece_name, foot_name(slit.name)))
    for name, way in strips.items():
        if name not in pieces:
            continue
        pieces[name] = in_stretches(pieces[name], way)
        smooth += [(name, f.name) for f in pieces[name].folds if f.smooth]
    if bent:
        from publisher.assembly.creases import creased

        for name in bent:
            pieces[name] = creased(pieces[name])
            smooth += [(name, f.name) for f in pieces[name].folds if f.smooth]
    if curled:
        from publisher.assembly.strips import STRIPS, in_strips

        for name, panel, across, bend in curled:
            own = [f.name for f in pieces[name].facets if f.panel == panel]
            if len(own) == 1:  # in one part, and not cut already
                pieces[name] = in_strips(pieces[name], own[0], STRIPS, across, bend)
                smooth += [(name, f.name) for f in pieces[name].folds if f.smooth]
    whole = replace(pattern, pieces=tuple(pieces.values()))
    return Handled(whole, tuple(piece.name for piece in contents), tuple(smooth))


def _bent(pattern: Pattern) -> Iterator[str]:
    """The pieces that steps fold along curved scores."""
    for step in pattern.steps:
        for action in step.actions:
            for target in action.subjects if action.verb in ("fold", "push") else ():
                if target.kind == "fold":
                    piece = pattern.piece(target.piece)
                    if any(s.name == target.part and s.fold is None for s in piece.scores):
                        yield piece.name


def _curled(pattern: Pattern) -> Iterator[tuple[str, str, bool | None, Bend]]:
    """The panels that steps curl."""
    if any(action.verb == "curl" for step in pattern.steps for action in step.actions):
        from publisher.assembly.curl import curled_panels

        yield from curled_panels(pattern)
