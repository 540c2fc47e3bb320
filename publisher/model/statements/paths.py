"""``path, from (0 mm, 0 mm) to (60 mm, 0 mm), to (60 mm, 40 mm) by 8 mm, …``: lines and arcs.

Every ``to`` goes on from where the one before ended, in a straight line; ``by`` a rise in an
arc that stands so far off its chord (on the left of the way, which is outside when one walks
clockwise), ``through`` a point in an arc through it, ``with`` two points in a cubic curve that
leaves towards the first and comes from the second. The last line goes back to the start.
"""

from __future__ import annotations

import math

from publisher.geometry.curves import cubic_arcs
from publisher.geometry.path import Line, Path, Point, Segment
from publisher.geometry.shapes import arc_by_rise, arc_through
from publisher.language.ast import By, FromTo, Place, Prep
from publisher.model.bench import SMALLEST_MM, Bench
from publisher.model.findings import refuse
from publisher.model.places.things import AtPoint
from publisher.model.statements.phrases import Phrases, flat_places

_EXAMPLE = "path, from (0 mm, 0 mm) to (60 mm, 0 mm), to (60 mm, 40 mm) by 8 mm"
_NEAR_MM = 1e-9


def says_a_path(phrases: Phrases) -> bool:
    """Whether the line leads from point to point."""
    return any(isinstance(j, FromTo) for j in phrases.statement.joinings())


def read_path(bench: Bench, phrases: Phrases, closed: bool = True) -> Path:
    """The path of the line's phrases, brought back to its start where it is to be closed."""
    segments: list[Segment] = []
    at: Point | None = None
    for phrase in phrases.statement.phrases:
        way = [j for j in phrase.joinings if isinstance(j, (FromTo, Prep, By))]
        if not any(isinstance(j, FromTo) or (isinstance(j, Prep) and j.word == "to") for j in way):
            continue
        phrases.take_joinings(way)
        stops = _stops(way)
        if at is None:
            if not isinstance(way[0], FromTo):
                break
            at = _point(bench, way[0].start)
        end = _point(bench, stops[0])
        segments.extend(_segments(bench, at, end, way))
        at = end
    if at is None or not segments:
        raise phrases.missing("where it runs from and to", f"{phrases.head} {_EXAMPLE}")
    if closed and math.dist(at, segments[0].start) > _NEAR_MM:
        segments.append(Line(at, segments[0].start))
    return Path(tuple(segments), closed)


def _stops(way: list[FromTo | Prep | By]) -> list[Place]:
    found: list[Place] = []
    for joining in way:
        if isinstance(joining, FromTo):
            found.append(joining.end)
        elif isinstance(joining, Prep) and joining.word == "to":
            found.extend(joining.places)
    return found


def _point(bench: Bench, place: Place) -> Point:
    things = bench.things([place])
    if len(things) != 1 or not isinstance(things[0], AtPoint):
        raise refuse("wrong-place", "one point is wanted here, such as (60 mm, 0 mm)", place.span)
    return things[0].at


def _segments(
    bench: Bench, start: Point, end: Point, way: list[FromTo | Prep | By]
) -> list[Segment]:
    for joining in way:
        if isinstance(joining, Prep) and joining.word == "with":
            handles = [_point(bench, p) for p in flat_places(joining.places)]
            if len(handles) != 2:
                raise refuse(
                    "wrong-count",
                    "a curve is drawn by two points: ‘with (20 mm, 0 mm) and (40 mm, 0 mm)’",
                    joining.span,
                )
            return cubic_arcs((start, handles[0], handles[1], end))
        if isinstance(joining, By):
            rise = bench.length(joining.value)
            if abs(rise) > 100.0 * math.dist(start, end):
                raise refuse(
                    "wrong-place",
                    "this arc rises more than a hundred times the way it spans",
                    joining.span,
                    numbers=(("rise_mm", rise),),
                )
            return [arc_by_rise(start, end, rise)]
        if isinstance(joining, Prep) and joining.word == "through":
            return [arc_through(start, _point(bench, joining.places[0]), end)]
    if math.dist(start, end) < SMALLEST_MM:
        raise refuse(
            "too-small",
            "this line has no length: it ends where it begins",
            way[0].span,
            numbers=(("length_mm", math.dist(start, end)), ("least_mm", SMALLEST_MM)),
        )
    return [Line(start, end)]
