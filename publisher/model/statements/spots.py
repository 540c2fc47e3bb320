"""Where a shape's middle comes to lie: ``at middle of flap``, ``6 mm in from left of flap``,
``6 mm beyond right of door``, ``aligned with top of door``."""

from __future__ import annotations

from msgspec import Struct

from publisher.diagnostics import Span
from publisher.geometry.path import Point
from publisher.language.ast import Offset, Phrase, Place, Ref
from publisher.model.bench import Bench
from publisher.model.findings import Refused, refuse
from publisher.model.places.resolve import home_of, panel_under
from publisher.model.places.things import AtEdge, AtLine, AtPoint, Thing
from publisher.model.statements.phrases import Phrases, flat_places

_OUT = {"top": -1.0, "bottom": 1.0, "left": -1.0, "right": 1.0}
"""Which way out of a thing its side looks, across or down."""


class Spots(Struct, frozen=True):
    """Middles in the order of the places, each with the panel it lies in."""

    centres: tuple[tuple[Point, str | None], ...]
    span: Span


class _Fixed(Struct):
    """What the phrases have fixed of one middle so far. ``beside`` is the middle of the thing
    that it stands beside, which it keeps to where nothing else is said."""

    x: float | None = None
    y: float | None = None
    beside: Point | None = None
    panel: str | None = None
    span: Span | None = None

    def fix(self, axis: int, mm: float, span: Span) -> None:
        """Raises ``Refused`` where this direction is fixed already."""
        if (self.x if axis == 0 else self.y) is not None:
            way = "across" if axis == 0 else "down"
            raise refuse("said-twice", f"where it is {way} has been said before", span)
        if axis == 0:
            self.x = mm
        else:
            self.y = mm
        self.span = self.span or span


def spots(bench: Bench, phrases: Phrases, width: float, height: float, example: str) -> Spots:
    """``at`` gives the middle; ``in from`` and ``beyond`` an edge give the gap to the near side,
    ``aligned with`` a side lays the shape's own side of that name on it.

    Each of these fixes one direction; in the other the shape stays in the middle of what it
    stands beside, or of its panel, unless another phrase fixes that too.
    """
    fixed = _fixed(bench, phrases, (width, height))
    places = phrases.places("at")
    if fixed.span is not None:
        if places:
            raise refuse(
                "said-twice",
                "‘at’ and ‘in from’, ‘beyond’ or ‘aligned with’ both say where it is; "
                "one is enough",
                places[0].span,
            )
        return _standing(bench, fixed, fixed.span)
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


def _standing(bench: Bench, fixed: _Fixed, span: Span) -> Spots:
    panel = fixed.panel
    box = bench.draft.panels[panel].bounds if panel is not None else bench.draft.bounds()
    x, y = fixed.beside or ((box[0] + box[2]) / 2.0, (box[1] + box[3]) / 2.0)
    at = (x if fixed.x is None else fixed.x, y if fixed.y is None else fixed.y)
    return Spots(((at, panel or bench.panel_at(at)),), span)


def _fixed(bench: Bench, phrases: Phrases, size: tuple[float, float]) -> _Fixed:
    fixed = _Fixed()
    middles: list[tuple[Thing, Span]] = []
    while (phrase := phrases.offset("in from")) is not None:
        _in_from(bench, fixed, phrase, size)
    while (phrase := phrases.offset("beyond")) is not None:
        _beyond(bench, fixed, phrase, size)
    for place in flat_places(phrases.aligned()):
        (thing,) = things if len(things := bench.things([place])) == 1 else (None,)
        side = _side_said(place)
        if side is not None and isinstance(thing, (AtEdge, AtLine)):
            axis, mm = _upright(thing, place.span)
            if axis != (0 if side in ("left", "right") else 1):
                raise _no_side(place.span)
            fixed.fix(axis, mm - _OUT[side] * size[axis] / 2.0, place.span)
            fixed.panel = fixed.panel or home_of(thing)
        elif isinstance(thing, AtPoint):
            middles.append((thing, place.span))
        else:
            raise _no_side(place.span)
    for thing, span in middles:
        assert isinstance(thing, AtPoint)
        _with_middle(fixed, thing, span)
    return fixed


def _with_middle(fixed: _Fixed, thing: AtPoint, span: Span) -> None:
    """A middle fixes the direction that is open yet."""
    if (fixed.x is None) == (fixed.y is None):
        raise refuse(
            "wrong-place",
            "aligned with a middle: across or down? Say the other one, such as "
            "‘6 mm in from left’, or ‘at’ where it is the middle of both",
            span,
        )
    axis = 0 if fixed.x is None else 1
    fixed.fix(axis, thing.at[axis], span)
    fixed.panel = fixed.panel or thing.panel


def _in_from(bench: Bench, fixed: _Fixed, phrase: Phrase, size: tuple[float, float]) -> None:
    gap, base = _gap_and_base(bench, phrase, "in from")
    if not isinstance(base, AtEdge):
        raise refuse("wrong-place", "‘in from’ needs one edge here", phrase.span)
    axis, mm = _upright(base, phrase.span)
    (x1, y1), (x2, y2) = base.edge.start, base.edge.end
    inward = (1.0 if y2 < y1 else -1.0) if axis == 0 else (1.0 if x2 > x1 else -1.0)
    fixed.fix(axis, mm + (gap + size[axis] / 2.0) * inward, phrase.span)
    fixed.panel = fixed.panel or home_of(base)


def _beyond(bench: Bench, fixed: _Fixed, phrase: Phrase, size: tuple[float, float]) -> None:
    gap, base = _gap_and_base(bench, phrase, "beyond")
    place = phrase.value
    assert isinstance(place, Offset)
    side = _side_said(place.bases[0])
    if side is None or not isinstance(base, (AtEdge, AtLine)):
        raise refuse(
            "wrong-place",
            "‘beyond’ needs a side of something, such as ‘6 mm beyond right of door’",
            phrase.span,
        )
    axis, mm = _upright(base, phrase.span)
    fixed.fix(axis, mm + (gap + size[axis] / 2.0) * _OUT[side], phrase.span)
    fixed.panel = fixed.panel or home_of(base)
    (x1, y1), (x2, y2) = _ends(base)
    fixed.beside = ((x1 + x2) / 2.0, (y1 + y2) / 2.0)


def _gap_and_base(bench: Bench, phrase: Phrase, said: str) -> tuple[float, Thing]:
    place = phrase.value
    assert isinstance(place, Offset)
    gap = bench.length(place.amount)
    bases = bench.things(place.bases)
    if len(bases) != 1:
        raise refuse("wrong-place", f"‘{said}’ needs one edge here", phrase.span)
    return gap, bases[0]


def _side_said(place: Place) -> str | None:
    """The side that the words begin with: "top" of ``4 mm below top of door``."""
    while isinstance(place, Offset):
        place = place.bases[0]
    if isinstance(place, Ref) and place.segments[0].kind == "side":
        return place.segments[0].name
    return None


def _ends(line: AtEdge | AtLine) -> tuple[Point, Point]:
    return (line.edge.start, line.edge.end) if isinstance(line, AtEdge) else (line.start, line.end)


def _upright(line: AtEdge | AtLine, span: Span) -> tuple[int, float]:
    """Which direction a line fixes (0 across, 1 down), and where."""
    (x1, y1), (x2, y2) = _ends(line)
    if x1 == x2:
        return 0, x1
    if y1 == y2:
        return 1, y1
    raise refuse("wrong-place", "this needs an edge along the sheet", span)


def _no_side(span: Span) -> Refused:
    return refuse(
        "wrong-place",
        "‘aligned with’ needs sides or middles, such as ‘top of door’ or ‘middle of door’",
        span,
    )
