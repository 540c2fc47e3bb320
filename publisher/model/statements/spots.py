"""Where a shape's middle comes to lie: ``at middle of flap``, ``6 mm in from left of flap``."""

from __future__ import annotations

from msgspec import Struct

from publisher.diagnostics import Span
from publisher.geometry.path import Point
from publisher.language.ast import Offset
from publisher.model.bench import Bench
from publisher.model.findings import refuse
from publisher.model.places.resolve import home_of, panel_under
from publisher.model.places.things import AtEdge, AtPoint
from publisher.model.statements.phrases import Phrases


class Spots(Struct, frozen=True):
    """Middles in the order of the places, each with the panel it lies in."""

    centres: tuple[tuple[Point, str | None], ...]
    span: Span


def spots(bench: Bench, phrases: Phrases, width: float, height: float, example: str) -> Spots:
    """``at`` gives the middle; ``in from`` an edge gives the gap to the near side.

    One ``in from`` fixes one direction; in the other the shape stays in the middle of its
    panel, unless a second one fixes that too.
    """
    inward = _inward(bench, phrases, width, height)
    places = phrases.places("at")
    if inward is not None:
        if places:
            raise refuse(
                "said-twice",
                "‘at’ and ‘in from’ both say where it is; one is enough",
                places[0].span,
            )
        return inward
    if not places:
        raise phrases.missing("where it is", example)
    found: list[tuple[Point, str | None]] = []
    for thing in bench.things(places):
        if not isinstance(thing, AtPoint):
            raise refuse(
                "wrong-place",
                "a point is wanted here, such as ‘middle of’ something",
                places[0].span,
            )
        found.append((thing.at, panel_under(bench.draft, thing)))
    return Spots(tuple(found), places[0].span)


def _inward(bench: Bench, phrases: Phrases, width: float, height: float) -> Spots | None:
    x: float | None = None
    y: float | None = None
    panel: str | None = None
    span: Span | None = None
    while (phrase := phrases.offset("in from")) is not None:
        place = phrase.value
        assert isinstance(place, Offset)
        span = span or phrase.span
        gap = bench.length(place.amount)
        bases = bench.things(place.bases)
        base = bases[0]
        if len(bases) != 1 or not isinstance(base, AtEdge):
            raise refuse("wrong-place", "‘in from’ needs one edge here", phrase.span)
        panel = panel or home_of(base)
        (x1, y1), (x2, y2) = base.edge.start, base.edge.end
        if x1 == x2:
            x = x1 + (gap + width / 2.0) * (1.0 if y2 < y1 else -1.0)
        elif y1 == y2:
            y = y1 + (gap + height / 2.0) * (1.0 if x2 > x1 else -1.0)
        else:
            raise refuse("wrong-place", "‘in from’ needs an edge along the sheet", phrase.span)
    if span is None:
        return None
    box = bench.draft.panels[panel].bounds if panel is not None else bench.draft.bounds()
    at = (
        (box[0] + box[2]) / 2.0 if x is None else x,
        (box[1] + box[3]) / 2.0 if y is None else y,
    )
    return Spots(((at, panel or bench.panel_at(at)),), span)
