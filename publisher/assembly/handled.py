"""The pattern as hands take it up: its pieces, and whatever else takes part in the steps."""

from __future__ import annotations

from msgspec import Struct
from msgspec.structs import replace

from publisher.assembly.contents import contents_of
from publisher.model.types import Pattern


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
    if not contents:
        return Handled(pattern)
    whole = replace(pattern, pieces=(*pattern.pieces, *contents))
    return Handled(whole, tuple(piece.name for piece in contents))
