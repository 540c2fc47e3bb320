"""Things in a row along a line: at equal gaps, or so far apart from middle to middle."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence

from msgspec import Struct

from publisher.diagnostics import Span
from publisher.geometry.path import Point
from publisher.model.bench import Bench
from publisher.model.findings import refuse
from publisher.model.places.things import AtPoint
from publisher.model.statements.counts import times_said
from publisher.model.statements.lines import Drawn, one_line
from publisher.model.statements.phrases import Phrases
from publisher.model.types import Edge
from publisher.units import both

_EXAMPLE = "5 times, evenly, along 12 mm below top of flap"
_NEAR_MM = 1e-6

Extent = Callable[[Point], float]
"""How much of a line a thing takes up, by the line's unit direction."""


class Ruled(Struct, frozen=True):
    """A line that things stand along, as one reads it: from the left, or from the top."""

    start: Point
    way: Point
    length_mm: float
    panel: str | None
    span: Span

    def at(self, mm: float) -> Point:
        """The point so far along it."""
        return (self.start[0] + self.way[0] * mm, self.start[1] + self.way[1] * mm)


def says_a_row(phrases: Phrases) -> bool:
    """Whether the line sets its things out along another one."""
    statement = phrases.statement
    return bool(statement.preps("along")) and statement.labelled("times") is not None


def points_said(
    bench: Bench, phrases: Phrases, extent: Extent, example: str
) -> tuple[list[AtPoint], Span]:
    """The points of ``at POINTS``, or of a row along a line."""
    if says_a_row(phrases):
        return in_a_row(bench, phrases, extent)
    if phrases.statement.labelled("times") is not None:
        raise phrases.missing("the line that they stand along", f"{phrases.head} …, {_EXAMPLE}")
    places = phrases.places("at")
    if not places:
        raise phrases.missing("where it is", example)
    return bench.points(places), places[0].span


def in_a_row(bench: Bench, phrases: Phrases, extent: Extent) -> tuple[list[AtPoint], Span]:
    """The middles of ``5 times, evenly, along LINE``, in reading order.

    ``evenly`` leaves equal gaps between the things and at both ends, or so much at the ends as
    ``6 mm short`` says; ``12 mm apart`` is from middle to middle, the row in the middle of its
    line. Raises ``Refused`` where they do not go onto it.
    """
    count = times_said(bench, phrases)
    even = phrases.word("evenly") is not None
    apart = phrases.labelled("apart")
    if even and apart is not None:
        raise refuse("said-twice", "‘evenly’ and ‘apart’ both say how far apart", apart.span)
    if not even and apart is None:
        raise phrases.missing("how far apart they are (evenly, or a measure apart)", _EXAMPLE)
    line, edge = ruled(bench, phrases)
    each = extent(line.way)
    if apart is not None:
        step = bench.positive(bench.value(apart), "distance apart")
        reach = step * (count - 1) + each
        _enough_room(line, reach, count)
        middles = [line.length_mm / 2.0 + step * (i - (count - 1) / 2.0) for i in range(count)]
    else:
        middles = spread(bench, phrases, line, [each] * count)
    return [AtPoint(line.at(mm), edge, line.panel) for mm in middles], line.span


def ruled(bench: Bench, phrases: Phrases) -> tuple[Ruled, Edge | None]:
    """The one line of ``along LINE, from A to B``, and its edge where it is one."""
    drawn, edge = one_line(bench, phrases)
    return _as_read(drawn), edge


def _as_read(drawn: Drawn) -> Ruled:
    (x1, y1), (x2, y2) = drawn.start, drawn.end
    if x2 < x1 - _NEAR_MM or (abs(x2 - x1) <= _NEAR_MM and y2 < y1):
        (x1, y1), (x2, y2) = (x2, y2), (x1, y1)
    length = math.dist((x1, y1), (x2, y2))
    way = ((x2 - x1) / length, (y2 - y1) / length)
    return Ruled((x1, y1), way, length, drawn.panel, drawn.span)


def spread(bench: Bench, phrases: Phrases, line: Ruled, extents_mm: Sequence[float]) -> list[float]:
    """How far along the line the middle of each thing lies, in mm, with equal gaps."""
    said = phrases.labelled("short")
    taken, count = sum(extents_mm), len(extents_mm)
    ends = 0.0 if said is None else bench.not_negative(bench.value(said), "rest at the ends")
    _enough_room(line, taken + 2.0 * ends, count)
    if said is None:
        gap = ends = (line.length_mm - taken) / (count + 1)
    elif count == 1:
        gap, ends = 0.0, (line.length_mm - taken) / 2.0
    else:
        gap = (line.length_mm - taken - 2.0 * ends) / (count - 1)
    middles: list[float] = []
    near = ends
    for extent in extents_mm:
        middles.append(near + extent / 2.0)
        near += extent + gap
    return middles


def _enough_room(line: Ruled, wanted_mm: float, count: int) -> None:
    if wanted_mm <= line.length_mm + _NEAR_MM:
        return
    what = "one thing takes" if count == 1 else f"{count} things in a row take"
    raise refuse(
        "row-too-long",
        f"{what} {both(wanted_mm)} of a line that is {both(line.length_mm)} long",
        line.span,
        numbers=(("wanted_mm", wanted_mm), ("length_mm", line.length_mm)),
        notes=("Make them smaller or fewer, or set them closer",),
    )
