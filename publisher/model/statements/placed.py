"""Shapes at their places: at points or in from edges, repeated in rows and round a centre."""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import Struct

from publisher.diagnostics import Span
from publisher.geometry.path import Point, Region
from publisher.geometry.transform import rotated, rotated_point, translated
from publisher.language.ast import Phrase
from publisher.model.bench import Bench
from publisher.model.findings import refuse
from publisher.model.places.resolve import panel_under
from publisher.model.places.things import AtPoint
from publisher.model.statements.along import in_a_row, says_a_row
from publisher.model.statements.counts import times as times_of
from publisher.model.statements.phrases import Phrases
from publisher.model.statements.shape import Shape
from publisher.model.statements.spots import spots

MOST_PLACED = 400
"""More cuts than one line should make; it keeps a slip from taking all day."""


class Placed(Struct, frozen=True):
    """One copy of a shape in the piece, and the panel that its middle lies in; ``more`` are
    further parts of it, such as the letters after the first."""

    region: Region
    middle: Point
    panel: str | None
    more: tuple[Region, ...] = ()

    @property
    def regions(self) -> tuple[Region, ...]:
        return (self.region, *self.more)

    def each(self) -> Iterator[Placed]:
        """Its parts one by one."""
        for region in self.regions:
            yield Placed(region, self.middle, self.panel)


class Row(Struct, frozen=True):
    """So many in a row, ``step`` from one middle to the next."""

    count: int
    step: Point

    @property
    def reach(self) -> Point:
        """From the first middle to the last."""
        return (self.step[0] * (self.count - 1), self.step[1] * (self.count - 1))


def place_all(
    bench: Bench, phrases: Phrases, shape: Shape, example: str
) -> tuple[list[Placed], Span]:
    """Every copy of the shape, in the order of the places, and where the line says them.

    Along a line they stand in reading order. What ``at`` names is the middle of a row; ``in
    from`` measures to its near side.
    """
    if says_a_row(phrases) and not shape.fixed:
        points, span = in_a_row(bench, phrases, shape.extent)
        return [_placed(shape, p.at, panel_under(bench.draft, p)) for p in points], span
    around = phrases.prep("around")
    times = phrases.all_labelled("times")
    turning = times.pop() if around is not None and times else None
    if around is not None and turning is None:
        raise phrases.missing("how many go round", "6 times, around middle of base")
    rows = _rows(bench, phrases, times)
    width, height = shape.box
    width += sum(abs(r.reach[0]) for r in rows)
    height += sum(abs(r.reach[1]) for r in rows)
    if shape.fixed:
        middles: list[tuple[Point, str | None]] = [(shape.middle, bench.panel_at(shape.middle))]
        span = phrases.span
    else:
        where = spots(bench, phrases, width, height, example)
        middles, span = list(where.centres), where.span
    for row in rows:
        middles = [
            ((x + row.step[0] * k, y + row.step[1] * k), panel)
            for (x, y), panel in middles
            for k in (i - (row.count - 1) / 2.0 for i in range(row.count))
        ]
        _bounded(len(middles), span)
    if around is None or turning is None:
        return [_placed(shape, m, panel) for m, panel in middles], span
    count = times_of(bench, bench.value(turning))
    _bounded(len(middles) * count, span)
    centres = bench.things(around.places)
    if len(centres) != 1 or not isinstance(centres[0], AtPoint):
        raise refuse("wrong-place", "things go round one point", around.span)
    centre = centres[0].at
    found: list[Placed] = []
    for middle, _ in middles:
        for i in range(count):
            turn = 360.0 * i / count
            at = rotated_point(middle, turn, centre)
            found.append(_placed(shape, at, bench.panel_at(at), turn))
    return found, span


def _placed(shape: Shape, at: Point, panel: str | None, turn: float = 0.0) -> Placed:
    turned = [rotated(r, turn) if turn else r for r in (shape.region, *shape.more)]
    first, *more = (translated(r, *at) for r in turned)
    return Placed(first, at, panel, tuple(more))


def _rows(bench: Bench, phrases: Phrases, times: list[Phrase]) -> list[Row]:
    """``5 times, 12 mm apart, across``; said twice it is a grid."""
    aparts = phrases.all_labelled("apart")
    example = "5 times, 12 mm apart, across"
    if not times and not aparts:
        return []
    if len(times) != len(aparts) or len(times) > 2:
        raise phrases.missing("for each row how many times and how far apart", example)
    ways = phrases.all_words("across", "down")
    if len(ways) != len(times) or len(set(ways)) != len(ways):
        raise phrases.missing("for each row which way it runs (across or down)", example)
    rows: list[Row] = []
    for said, apart, way in zip(times, aparts, ways, strict=True):
        step = bench.positive(bench.value(apart), "distance apart")
        rows.append(
            Row(times_of(bench, bench.value(said)), (step, 0.0) if way == "across" else (0.0, step))
        )
    return rows


def _bounded(count: int, span: Span) -> None:
    if count > MOST_PLACED:
        raise refuse(
            "wrong-count",
            f"this line would cut {count} shapes; more than {MOST_PLACED} are not built",
            span,
            numbers=(("cuts", float(count)), ("most", float(MOST_PLACED))),
        )
