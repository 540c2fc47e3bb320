"""Tongues: the paper within a slit that is open on one side, as a facet that can be lifted.

It holds to the rest along its foot, the line between the slit's ends, where no fold is made:
the paper bends there and comes back.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator

from msgspec import Struct
from msgspec.structs import replace

from publisher.geometry.booleans import split_region
from publisher.geometry.flatten import flattened
from publisher.geometry.measure import area
from publisher.geometry.path import Line, Path, Point
from publisher.model.shaping.facets import hinges_of
from publisher.model.types import Facet, Fold, Opening, Pattern, Piece, Target

LIFTED_DEG = 110.0
"""How far a tongue is drawn lifted while something goes under it: past upright, so that the hole
behind it is seen. Our own choice, for the eye."""

RAISED_MM = 8.0
"""How far over the paper's face a card is drawn before it goes under a tongue; our own choice."""

_OPEN_MM = 0.5


class Tongue(Struct, frozen=True):
    """``foot`` is the middle of the line it hangs on, ``out`` the unit direction from there to
    its tip, in the piece's flat coordinates."""

    facet: str
    foot: Point
    out: Point
    width_mm: float
    depth_mm: float


def foot_name(slit: str) -> str:
    """The line on which the tongue of a slit hangs."""
    return f"foot of {slit}"


def tongue_of(slit: Opening) -> Tongue | None:
    """The tongue that a slit makes; None where it is a straight line or closed."""
    path = slit.path
    if slit.kind != "slit" or path.closed:
        return None
    (x0, y0), (x1, y1) = path.start, path.end
    width = math.dist(path.start, path.end)
    if width < _OPEN_MM:
        return None
    ux, uy = (x1 - x0) / width, (y1 - y0) / width
    heights = [ux * (y - y0) - uy * (x - x0) for x, y in flattened(path, 0.05)]
    tip = max(heights, key=abs)
    if abs(tip) < _OPEN_MM:
        return None
    side = math.copysign(1.0, tip)
    foot = ((x0 + x1) / 2.0, (y0 + y1) / 2.0)
    return Tongue(slit.name, foot, (-uy * side, ux * side), width, abs(tip))


def lifted_under(pattern: Pattern) -> Iterator[tuple[str, Opening]]:
    """The slits, (piece, opening), under whose tongues steps put something."""
    pieces = {piece.name: piece for piece in pattern.pieces}
    for step in pattern.steps:
        for action in step.actions:
            if action.verb == "tuck":
                for target in action.objects:
                    slit = slit_of(pieces.get(target.piece), target)
                    if slit is not None and tongue_of(slit) is not None:
                        yield target.piece, slit


def slit_of(piece: Piece | None, target: Target) -> Opening | None:
    if piece is None or target.kind != "opening":
        return None
    return next((o for o in piece.openings if o.name == target.part), None)


def with_tongues(piece: Piece, slits: Iterable[Opening]) -> Piece:
    """The piece with the tongue of each slit as a facet of its own."""
    for slit in slits:
        piece = _with_tongue(piece, slit)
    return piece


def _with_tongue(piece: Piece, slit: Opening) -> Piece:
    tongue = tongue_of(slit)
    if tongue is None or any(f.name == foot_name(slit.name) for f in piece.folds):
        return piece
    foot = Path((Line(slit.path.end, slit.path.start),), closed=False)
    for facet in piece.facets:
        parts = split_region(facet.region, [slit.path, foot])
        if len(parts) != 2:
            continue
        small, large = sorted(parts, key=lambda r: abs(area(r)))
        rest = Facet(facet.name, facet.panel, large)
        own = Facet(slit.name, facet.panel, small)
        facets = [f for one in piece.facets for f in ((rest, own) if one is facet else (one,))]
        # The parent, which stays, lies on the right hand of the line; y runs down.
        ends = (slit.path.start, slit.path.end)
        if (ends[1][0] - ends[0][0]) * tongue.out[1] > (ends[1][1] - ends[0][1]) * tongue.out[0]:
            ends = ends[::-1]
        name = foot_name(slit.name)
        fold = Fold(name, *ends, "valley", 180.0, facet.panel, facet.panel, slit.span, True)
        folds = (*piece.folds, fold)
        return replace(piece, folds=folds, facets=tuple(facets), hinges=hinges_of(folds, facets))
    return piece
