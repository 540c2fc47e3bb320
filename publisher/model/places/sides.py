"""Sides, corners and middles of a piece and of its parts."""

from __future__ import annotations

import itertools
import math

from publisher.diagnostics import Span
from publisher.geometry.measure import path_bounds
from publisher.geometry.path import Point
from publisher.language.ast import Segment
from publisher.model.draft import Draft
from publisher.model.findings import listed, refuse, unknown
from publisher.model.places.things import (
    AtEdge,
    AtIsland,
    AtLine,
    AtOpening,
    AtPanel,
    AtPoint,
    Thing,
    Whole,
    kind_of,
)
from publisher.model.shaping.panels import SIDES
from publisher.model.types import Edge, Panel

_NEAR_MM = 1e-6


def no_edge(panel: Panel, segment: Segment) -> Exception:
    """There is no edge of that name."""
    known = {e.name: None for e in panel.edges}
    if segment.kind == "side" and not any(side in known for side in SIDES):
        return refuse(
            "unknown-edge",
            f"{panel.name} has no side that is its {segment.name}",
            segment.span,
            notes=(
                "Say places on it from its middle or from a tip: ‘20 mm above middle’, "
                "‘9 mm below tip 1’",
            ),
        )
    return unknown(
        f"among the edges of {panel.name}", segment.name, segment.span, known, code="unknown-edge"
    )


def side_of(draft: Draft, outer: Thing, segment: Segment) -> Thing:
    """An edge of a panel, the reach of an opening, the outermost spot of an island."""
    if isinstance(outer, AtPanel):
        for edge in outer.panel.edges:
            if edge.name == segment.name:
                return AtEdge(edge, outer.panel.name)
        raise no_edge(outer.panel, segment)
    if isinstance(outer, Whole):
        return _outerside_of(draft, segment)
    if isinstance(outer, AtOpening):
        x0, y0, x1, y1 = path_bounds(outer.opening.path)
        ends: dict[str, tuple[Point, Point]] = {
            "top": ((x0, y0), (x1, y0)),
            "bottom": ((x0, y1), (x1, y1)),
            "left": ((x0, y0), (x0, y1)),
            "right": ((x1, y0), (x1, y1)),
        }
        return AtLine(*ends[segment.name], outer.opening.panel)
    if isinstance(outer, AtIsland):
        island = outer.island
        x0, y0, x1, y1 = path_bounds(island.region.outer)
        x, y = (x0 + x1) / 2.0, (y0 + y1) / 2.0
        spots: dict[str, tuple[Point, Point]] = {
            "top": ((x, y0), (0.0, -1.0)),
            "bottom": ((x, y1), (0.0, 1.0)),
            "left": ((x0, y), (-1.0, 0.0)),
            "right": ((x1, y), (1.0, 0.0)),
        }
        at, out = spots[segment.name]
        return AtPoint(at, None, island.panel, out, island.name)
    raise refuse("wrong-place", f"{kind_of(outer)} has no {segment.name}", segment.span)


def _outerside_of(draft: Draft, segment: Segment) -> Thing:
    """The side of the whole piece: the edge, or edges in one line, that bound it there."""
    side = segment.name
    if len(draft.panels) == 1:
        return side_of(draft, AtPanel(next(iter(draft.panels.values()))), segment)
    x0, y0, x1, y1 = draft.bounds()
    level = {"top": y0, "bottom": y1, "left": x0, "right": x1}[side]
    axis = 1 if side in ("top", "bottom") else 0
    found = [
        (edge, panel.name)
        for panel in draft.panels.values()
        for edge in panel.edges
        if edge.name == side
        and abs(edge.start[axis] - level) < _NEAR_MM
        and abs(edge.end[axis] - level) < _NEAR_MM
    ]
    if len(found) == 1:
        return AtEdge(*found[0])
    # Along a chain the panels' edges run on in one line.
    other = 1 - axis
    found.sort(key=lambda f: f[0].start[other], reverse=side in ("bottom", "left"))
    for (a, _), (b, _) in itertools.pairwise(found):
        if math.dist(a.end, b.start) > _NEAR_MM:
            found = []
            break
    if not found:
        owners = [p for p in draft.panels.values() if p.kind == "panel"]
        if not owners:
            raise refuse("wrong-place", f"{draft.name} has no {side} here", segment.span)
        raise refuse(
            "wrong-place",
            f"{draft.name} has several panels: the {side} of which?",
            segment.span,
            notes=(f"Write for example ‘{side} of {owners[0].name}’",),
        )
    return AtEdge(Edge(side, found[0][0].start, found[-1][0].end), None)


def corner_of(draft: Draft, outer: Thing, segment: Segment) -> Thing:
    """Where two edges meet; for what has none, the corner of its bounds."""
    first, second = segment.name.split(" ")
    if isinstance(outer, Whole) and len(draft.panels) == 1:
        outer = AtPanel(next(iter(draft.panels.values())))
    if isinstance(outer, AtPanel):
        edges = {e.name: e for e in outer.panel.edges}
        if first in edges and second in edges:
            a, b = edges[first], edges[second]
            if math.dist(a.start, b.end) < _NEAR_MM:
                return AtPoint(a.start, None, outer.panel.name)
            if math.dist(a.end, b.start) < _NEAR_MM:
                return AtPoint(a.end, None, outer.panel.name)
        raise refuse(
            "unknown-edge",
            f"{outer.panel.name} has no {segment.name} corner",
            segment.span,
            notes=(f"Its edges are {listed(edges)}",),
        )
    if isinstance(outer, AtOpening):
        x0, y0, x1, y1 = path_bounds(outer.opening.path)
        at = (x0 if second == "left" else x1, y0 if first == "top" else y1)
        return AtPoint(at, None, outer.opening.panel)
    if isinstance(outer, Whole):
        x0, y0, x1, y1 = draft.bounds()
        return AtPoint((x0 if second == "left" else x1, y0 if first == "top" else y1), None, None)
    raise refuse("wrong-place", f"{kind_of(outer)} has no corner", segment.span)


def middle_of(draft: Draft, outer: Thing, span: Span) -> Thing:
    """Of a line or an edge halfway along; of what has a size, the middle of its bounds."""
    if isinstance(outer, AtEdge):
        return AtPoint(_between(outer.edge.start, outer.edge.end), outer.edge, outer.panel)
    if isinstance(outer, AtLine):
        return AtPoint(_between(outer.start, outer.end), None, outer.panel)
    if isinstance(outer, AtPanel):
        x0, y0, x1, y1 = outer.panel.bounds
        return AtPoint(((x0 + x1) / 2, (y0 + y1) / 2), None, outer.panel.name)
    if isinstance(outer, AtOpening):
        x0, y0, x1, y1 = path_bounds(outer.opening.path)
        return AtPoint(((x0 + x1) / 2, (y0 + y1) / 2), None, outer.opening.panel)
    if isinstance(outer, AtIsland):
        x0, y0, x1, y1 = path_bounds(outer.island.region.outer)
        return AtPoint(((x0 + x1) / 2, (y0 + y1) / 2), None, outer.island.panel)
    if isinstance(outer, Whole):
        x0, y0, x1, y1 = draft.bounds()
        panel = next(iter(draft.panels)) if len(draft.panels) == 1 else None
        return AtPoint(((x0 + x1) / 2, (y0 + y1) / 2), None, panel)
    raise refuse("wrong-place", f"{kind_of(outer)} has no middle", span)


def _between(a: Point, b: Point) -> Point:
    return ((a[0] + b[0]) / 2.0, (a[1] + b[1]) / 2.0)
