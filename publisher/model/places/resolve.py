"""Places of the language as points, lines, edges and panels of one piece."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence

from publisher.geometry.path import Point
from publisher.language.ast import Expr, Offset, Place, PointAt, Ref, Several
from publisher.model.draft import Draft
from publisher.model.findings import refuse
from publisher.model.places.parts import find
from publisher.model.places.things import (
    AtEdge,
    AtLine,
    AtPanel,
    AtPoint,
    Thing,
    Whole,
    kind_of,
)
from publisher.model.shaping.panels import along_and_out, inside_ring, shifted
from publisher.model.types import Edge

Measure = Callable[[Expr], float]
"""An expression as mm, or as a plain number for shares."""

_NEAR_MM = 1e-6

_SHIFTS: dict[str, Point] = {
    "above": (0.0, -1.0),
    "below": (0.0, 1.0),
    "left of": (-1.0, 0.0),
    "right of": (1.0, 0.0),
    "top of": (0.0, -1.0),
    "bottom of": (0.0, 1.0),
}


def resolve(draft: Draft, places: Sequence[Place], length: Measure, share: Measure) -> list[Thing]:
    """All things that the places speak of, in order; the language has given each its owner."""
    things: list[Thing] = []
    for place in places:
        for one in place.items if isinstance(place, Several) else (place,):
            things.extend(_one(draft, one, length, share))
    return things


def _one(draft: Draft, place: Place, length: Measure, share: Measure) -> list[Thing]:
    if isinstance(place, Offset):
        bases = resolve(draft, place.bases, length, share)
        return [_offset(place, base, length, share) for base in bases]
    if isinstance(place, Ref):
        return find(draft, place)
    if isinstance(place, PointAt):
        x0, y0, _, _ = draft.bounds()
        return [AtPoint((x0 + length(place.across), y0 + length(place.down)), None, None)]
    raise refuse("wrong-place", "this is a measure, not a place", place.span)


def _offset(place: Offset, base: Thing, length: Measure, share: Measure) -> Thing:
    direction = place.direction
    if direction == "of the way along":
        return _share_of(place, base, share)
    if direction == "in from":
        if isinstance(base, AtEdge):
            _, out = along_and_out(base.edge)
            mm = length(place.amount)
            a = shifted(base.edge.start, (out, -mm))
            b = shifted(base.edge.end, (out, -mm))
            return AtLine(a, b, base.panel)
        raise refuse("wrong-place", f"‘in from’ needs an edge, not {kind_of(base)}", place.span)
    if direction not in _SHIFTS:
        raise refuse("wrong-place", f"‘{direction}’ cannot be used here", place.span)
    move = (_SHIFTS[direction], length(place.amount))
    if isinstance(base, AtPoint):
        return AtPoint(shifted(base.at, move), None, base.panel)
    if isinstance(base, AtEdge):
        return AtLine(shifted(base.edge.start, move), shifted(base.edge.end, move), base.panel)
    if isinstance(base, AtLine):
        return AtLine(shifted(base.start, move), shifted(base.end, move), base.panel)
    raise refuse(
        "wrong-place",
        f"‘{direction}’ needs a point or a line, not {kind_of(base)}",
        place.span,
    )


def _share_of(place: Offset, base: Thing, share: Measure) -> AtPoint:
    """Along an edge as one reads: from the left, or from the top."""
    part = share(place.amount)
    if isinstance(base, AtEdge):
        start, end, edge, panel = base.edge.start, base.edge.end, base.edge, base.panel
    elif isinstance(base, AtLine):
        start, end, edge, panel = base.start, base.end, None, base.panel
    else:
        raise refuse("wrong-place", f"‘along’ needs an edge, not {kind_of(base)}", place.span)
    if (end[0], end[1]) < (start[0], start[1]):
        start, end = end, start
    at = (start[0] + part * (end[0] - start[0]), start[1] + part * (end[1] - start[1]))
    return AtPoint(at, edge, panel)


def point_on_edge(draft: Draft, point: AtPoint) -> AtPoint | None:
    """The point with the one edge that it lies on; None where it lies on none or at a corner."""
    if point.edge is not None:
        return point
    found: list[tuple[Edge, str]] = []
    for panel in draft.panels.values():
        if point.panel is not None and panel.name != point.panel:
            continue
        for edge in panel.edges:
            if _near(edge, point.at):
                found.append((edge, panel.name))
    if len(found) != 1:
        return None
    edge, name = found[0]
    return AtPoint(point.at, edge, name)


def _near(edge: Edge, p: Point) -> bool:
    length = math.dist(edge.start, edge.end)
    u, (ox, oy) = along_and_out(edge)
    dx, dy = p[0] - edge.start[0], p[1] - edge.start[1]
    along = dx * u[0] + dy * u[1]
    return abs(dx * ox + dy * oy) < _NEAR_MM and -_NEAR_MM < along < length + _NEAR_MM


def panel_under(draft: Draft, point: AtPoint) -> str | None:
    """The panel that a point lies in: the one it was found from where that holds it."""
    holding = [p.name for p in draft.panels.values() if inside_ring(p.ring, point.at)]
    if point.panel is not None and (point.panel in holding or not holding):
        return point.panel
    if point.panel is not None and point_on_edge(draft, point) is not None:
        return point.panel
    return holding[0] if holding else None


def home_of(thing: Thing) -> str | None:
    """The panel that a thing belongs to."""
    if isinstance(thing, AtPanel):
        return thing.panel.name
    if isinstance(thing, Whole):
        return None
    if isinstance(thing, (AtEdge, AtLine, AtPoint)):
        return thing.panel
    return None
