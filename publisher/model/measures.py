"""What can be measured by name: ``width of drawer when closed``, ``length of top of pocket``.

Parts of a size are across, down and out of the paper: width, height, depth. A piece measured
without a state is its flat blank; with ``when closed`` its outside, caliper counted.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Protocol

from publisher.diagnostics import Span
from publisher.geometry.measure import path_bounds
from publisher.language.ast import Ref, Segment
from publisher.model.draft import Draft
from publisher.model.findings import Refused, refuse, unknown
from publisher.model.places.parts import find
from publisher.model.places.things import (
    AtEdge,
    AtGlue,
    AtIsland,
    AtLine,
    AtOpening,
    AtPanel,
    Thing,
    Whole,
    kind_of,
)
from publisher.model.types import BandOf, MatOf, Piece
from publisher.trade import Trade

PARTS = ("width", "height", "depth")
DERIVED = ("border", "ease", "overlap", "loop")
WORDS = (*PARTS, "length", "caliper", *DERIVED)
"""First words of a measure."""


class Measured(Protocol):
    """Where names are looked up."""

    @property
    def trade(self) -> Trade: ...

    def size_parts(self, name: str, span: Span) -> tuple[tuple[float, ...], str] | None:
        """A named size, or None."""

    def finished(self, name: str, span: Span) -> tuple[Piece, Draft]:
        """A piece; ``Refused`` where it cannot be built."""

    def pieces(self) -> Mapping[str, Span]: ...

    def filled_size(
        self, name: str, states: tuple[str, ...], span: Span
    ) -> tuple[float, float, float]: ...

    def known(self) -> Mapping[str, Span | None]:
        """Everything that has a measure, for the nearest name."""


def measure(ref: Ref, scope: Measured, home: Draft | None) -> float:
    """mm of a measure; ``home`` is the piece whose line asks, whose parts need no owner.

    Raises ``Refused`` at the word that is wrong.
    """
    word, rest = ref.segments[0], ref.segments[1:]
    if not rest:
        raise refuse("unknown-name", f"the {word.name} of what?", word.span)
    owner = rest[-1]
    if home is not None and owner.name == home.name and not ref.states:
        if len(rest) == 1 and word.name == "caliper":
            return home.stock.caliper_mm
        if len(rest) > 1:
            return _of_thing(word, _only(home, Ref(rest[:-1], (), ref.span)))
    if owner.name in scope.pieces():
        return _of_piece(word, rest[:-1], owner, ref, scope)
    if len(rest) == 1:
        found = _of_name(word, owner, ref, scope, home)
        if found is not None:
            return found
    if home is not None:
        return _of_thing(word, _only(home, Ref(rest, (), ref.span)))
    return _of_thing(word, _anywhere(rest, ref, scope))


def measure_each(ref: Ref, scope: Measured, home: Draft | None) -> list[float]:
    """mm of a measure of everything that ``each`` or ``all`` stands for, in the order of the
    piece."""
    word, rest = ref.segments[0], ref.segments[1:]
    owner = rest[-1]
    if owner.name in scope.pieces() and owner.kind == "name":
        draft = home if home is not None and home.name == owner.name else None
        draft = draft or scope.finished(owner.name, owner.span)[1]
        rest = rest[:-1]
    elif home is not None:
        draft = home
    else:
        raise refuse(
            "unknown-name",
            f"‘{ref.text}’ of which piece? Say ‘{ref.text} of …’",
            ref.span,
        )
    return [_of_thing(word, thing) for thing in find(draft, Ref(rest, (), ref.span))]


def _of_piece(
    word: Segment, inner: tuple[Segment, ...], owner: Segment, ref: Ref, scope: Measured
) -> float:
    if ref.states and word.name in PARTS and not inner:
        size = scope.filled_size(owner.name, ref.states, owner.span)
        return size[PARTS.index(word.name)]
    piece, draft = scope.finished(owner.name, owner.span)
    if inner:
        return _of_thing(word, _only(draft, Ref(inner, (), ref.span)))
    x0, y0, x1, y1 = piece.bounds
    flat = {"width": x1 - x0, "height": y1 - y0, "depth": piece.stock.caliper_mm}
    flat["caliper"] = piece.stock.caliper_mm
    flat |= _derived(piece)
    if word.name in flat:
        return flat[word.name]
    raise refuse(
        "wrong-measure",
        f"a piece has no {word.name}",
        word.span,
        notes=("Say which edge: ‘length of top of base of drawer’",)
        if word.name == "length"
        else (f"{owner.name} has {', '.join(sorted(flat))}",),
    )


def _derived(piece: Piece) -> dict[str, float]:
    if isinstance(piece.derived, MatOf):
        return {"border": piece.derived.border_mm}
    if isinstance(piece.derived, BandOf):
        band = piece.derived
        return {"ease": band.ease_mm, "overlap": band.overlap_mm, "loop": band.loop_mm}
    return {}


def _of_name(
    word: Segment, owner: Segment, ref: Ref, scope: Measured, home: Draft | None
) -> float | None:
    """A measure of a size, a stock or an object; None where the name is none of them."""
    name = owner.name
    if word.name == "caliper" and name in scope.trade.stocks:
        return scope.trade.stocks[name].caliper_mm
    if word.name not in PARTS:
        return None
    index = PARTS.index(word.name)
    size = scope.size_parts(name, owner.span)
    if size is not None:
        parts, unit = size
        is_part = home is not None and name in home.named()
        if len(parts) > index and len(parts) > 1 and unit == "mm":
            return parts[index]
        if not is_part and len(parts) > 1:
            raise refuse(
                "wrong-measure",
                f"‘{name}’ has {len(parts)} parts, and no {word.name}",
                word.span,
            )
    thing = scope.trade.objects.get(name)
    if thing is not None:
        return (thing.width_mm, thing.height_mm, thing.depth_mm)[index]
    return None


def _anywhere(rest: tuple[Segment, ...], ref: Ref, scope: Measured) -> Thing:
    """A part named without its piece: the only piece that has it."""
    found: list[tuple[str, Thing]] = []
    for name, span in scope.pieces().items():
        try:
            _, draft = scope.finished(name, span)
            things = find(draft, Ref(rest, (), ref.span))
        except Refused:
            continue
        found.extend((name, t) for t in things)
    if len(found) == 1:
        return found[0][1]
    owner = rest[-1]
    if len(found) > 1:
        homes = sorted({name for name, _ in found})
        raise refuse(
            "several-meant",
            f"‘{owner.name}’ is a part of {' and of '.join(homes)}. "
            f"Say ‘{owner.name} of {homes[0]}’",
            owner.span,
        )
    raise unknown("", owner.name, owner.span, scope.known())


def _only(draft: Draft, ref: Ref) -> Thing:
    things = find(draft, ref)
    if len(things) != 1:
        raise refuse("several-meant", f"this means {len(things)} things; say which", ref.span)
    return things[0]


def _of_thing(word: Segment, thing: Thing) -> float:
    measures: dict[str, float] = {}
    if isinstance(thing, AtPanel):
        measures = {"width": thing.panel.width_mm, "height": thing.panel.height_mm}
    elif isinstance(thing, AtEdge):
        measures = {"length": math.dist(thing.edge.start, thing.edge.end)}
    elif isinstance(thing, AtLine):
        measures = {"length": math.dist(thing.start, thing.end)}
    elif isinstance(thing, AtOpening):
        opening = thing.opening
        measures = {"width": opening.width_mm, "depth": opening.depth_mm}
        if opening.kind == "window":
            measures = {"width": opening.width_mm, "height": opening.depth_mm}
        if opening.kind == "slit":
            measures = {"length": opening.path.length_mm}
    elif isinstance(thing, AtIsland):
        measures = {"width": thing.island.width_mm, "height": thing.island.height_mm}
    elif isinstance(thing, AtGlue):
        x0, y0, x1, y1 = path_bounds(thing.zone.region.outer)
        measures = {"width": x1 - x0, "height": y1 - y0}
    elif isinstance(thing, Whole):
        raise refuse("wrong-measure", "Say the piece by its name", word.span)
    if word.name in measures:
        return measures[word.name]
    has = f"; it has {' and '.join(measures)}" if measures else ""
    raise refuse("wrong-measure", f"{kind_of(thing)} has no {word.name}{has}", word.span)
