"""Straight lines that a statement draws: ``along``, ``from … to …``, or so long at a point."""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence

from msgspec import Struct

from publisher.diagnostics import Span
from publisher.geometry.booleans import clip_path
from publisher.geometry.path import Line, Path, Point, Region
from publisher.language.ast import Place
from publisher.model.bench import SMALLEST_MM, Bench
from publisher.model.findings import refuse
from publisher.model.places.resolve import home_of
from publisher.model.places.things import (
    AtEdge,
    AtLine,
    AtOpening,
    AtPoint,
    Thing,
    kind_of,
)
from publisher.model.shaping.paper import panel_region
from publisher.model.statements.phrases import Phrases
from publisher.model.types import Edge

_FAR_MM = 10_000.0
_NEAR_MM = 1e-6


class Drawn(Struct, frozen=True):
    start: Point
    end: Point
    panel: str | None
    span: Span


def lines_along(bench: Bench, phrases: Phrases, beside_mm: Sequence[float] = (0.0,)) -> list[Drawn]:
    """Lines of ``along PLACES``, as far as ``from … to …`` says, else through their panel.

    Through a point a line runs ``across`` or ``down``. ``beside_mm`` are lines at these
    distances from each. An empty list where the statement has no ``along``.
    """
    places = phrases.places("along")
    if not places:
        places = tuple(phrases.bare_places())
    if not places:
        return []
    things = bench.things(places)
    way = None
    if any(isinstance(thing, AtPoint) for thing in things):
        ways = phrases.all_words("across", "down")
        if not ways:
            raise phrases.missing("which way it runs (across or down)", f"{phrases.head} …, down")
        way = ways[0]
    ends = phrases.from_to()
    drawn: list[Drawn] = []
    for thing, beside in itertools.product(things, beside_mm):
        start, end = _moved(*_line_of(thing, places[0], way), beside)
        panel = home_of(thing)
        if ends is not None:
            a = end_on_line(bench, ends.start, start, end)
            b = end_on_line(bench, ends.end, start, end)
            _has_length(a, b, ends.span)
            drawn.append(Drawn(a, b, panel, places[0].span))
        else:
            drawn.extend(_through(bench, start, end, panel, places[0].span))
    return drawn


def one_line(bench: Bench, phrases: Phrases) -> tuple[Drawn, Edge | None]:
    """The one line of ``along PLACE``; an edge is itself, with nothing of it prolonged."""
    said = phrases.statement.preps("along")
    things = bench.things(said[0].places) if said else []
    if len(things) != 1:
        raise refuse("wrong-place", "one line is wanted here", phrases.span)
    (thing,) = things
    if not isinstance(thing, AtEdge):
        drawn = lines_along(bench, phrases)
        if len(drawn) != 1:
            raise refuse("wrong-place", "this line is broken by openings", said[0].span)
        return drawn[0], None
    phrases.places("along")
    start, end, span = thing.edge.start, thing.edge.end, said[0].places[0].span
    ends = phrases.from_to()
    if ends is not None:
        start, end = (end_on_line(bench, place, start, end) for place in (ends.start, ends.end))
        _has_length(start, end, ends.span)
    return Drawn(start, end, thing.panel, span), thing.edge


def _has_length(start: Point, end: Point, span: Span) -> None:
    if math.dist(start, end) < SMALLEST_MM:
        raise refuse(
            "too-small",
            "this line has no length: it ends where it begins",
            span,
            numbers=(("length_mm", math.dist(start, end)), ("least_mm", SMALLEST_MM)),
        )


def _moved(start: Point, end: Point, by_mm: float) -> tuple[Point, Point]:
    """The line moved to its right, as seen."""
    if by_mm == 0.0:
        return start, end
    length = math.dist(start, end)
    dx, dy = -(end[1] - start[1]) / length * by_mm, (end[0] - start[0]) / length * by_mm
    return (start[0] + dx, start[1] + dy), (end[0] + dx, end[1] + dy)


def _line_of(thing: Thing, place: Place, way: str | None = None) -> tuple[Point, Point]:
    if isinstance(thing, AtPoint) and way is not None:
        x, y = thing.at
        return thing.at, (x + 1.0, y) if way == "across" else (x, y + 1.0)
    if isinstance(thing, AtOpening):
        only = thing.opening.path.segments[0]
        if len(thing.opening.path.segments) == 1 and isinstance(only, Line):
            return only.start, only.end
    if isinstance(thing, AtEdge):
        return thing.edge.start, thing.edge.end
    if isinstance(thing, AtLine):
        return thing.start, thing.end
    raise refuse("wrong-place", f"a line is wanted here, and this is {kind_of(thing)}", place.span)


def _through(bench: Bench, start: Point, end: Point, panel: str | None, span: Span) -> list[Drawn]:
    """The line prolonged both ways, kept within its panel (or the paper)."""
    draft = bench.draft
    region: Region | None = draft.paper
    if panel is not None:
        region = panel_region(draft.panels[panel])
    assert region is not None
    length = math.dist(start, end)
    ux, uy = (end[0] - start[0]) / length, (end[1] - start[1]) / length
    far = Path(
        (
            Line(
                (start[0] - ux * _FAR_MM, start[1] - uy * _FAR_MM),
                (end[0] + ux * _FAR_MM, end[1] + uy * _FAR_MM),
            ),
        ),
        closed=False,
    )
    parts = clip_path(far, region)
    if not parts:
        raise refuse("line-off-paper", "this line does not run through the paper", span)
    return [Drawn(p.start, p.end, panel, span) for p in parts]


def end_on_line(bench: Bench, place: Place, start: Point, end: Point) -> Point:
    """Where the line through ``start`` and ``end`` meets the place."""
    things = bench.things([place])
    if len(things) != 1:
        raise refuse("wrong-place", "one end is wanted here", place.span)
    thing = things[0]
    ux, uy = end[0] - start[0], end[1] - start[1]
    if isinstance(thing, AtPoint):
        k = ((thing.at[0] - start[0]) * ux + (thing.at[1] - start[1]) * uy) / (ux * ux + uy * uy)
        return (start[0] + k * ux, start[1] + k * uy)
    a, b = _line_of(thing, place)
    vx, vy = b[0] - a[0], b[1] - a[1]
    cross = ux * vy - uy * vx
    if abs(cross) < _NEAR_MM:
        raise refuse("wrong-place", "this runs beside the line and never meets it", place.span)
    k = ((a[0] - start[0]) * vy - (a[1] - start[1]) * vx) / cross
    return (start[0] + k * ux, start[1] + k * uy)
