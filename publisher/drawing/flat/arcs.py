"""The mouths of notches, and the arcs of an outline that are measures of their own."""

from __future__ import annotations

import math
from collections.abc import Iterator

from publisher.geometry.measure import path_bounds
from publisher.geometry.path import Arc, Line, Point
from publisher.geometry.segments import direction_at, nearest_on, point_at
from publisher.model.types import Opening, Piece

_NEAR_MM = 1e-4


def mouth_of(piece: Piece, opening: Opening) -> Line | None:
    """The straight side by which a notch is open; None for windows and slits.

    Of the lines as long as the notch is wide, the one that lies nearest to an edge of a panel.
    """
    if opening.kind != "notch":
        return None
    lines = [s for s in opening.path.segments if isinstance(s, Line)]
    fitting = [s for s in lines if abs(s.length_mm - opening.width_mm) < _NEAR_MM] or lines
    edges = [
        Line(e.start, e.end)
        for p in piece.panels
        if opening.panel in (None, p.name)
        for e in p.edges
    ]

    def off_edge(line: Line) -> float:
        middle = point_at(line, 0.5)
        return min((math.dist(nearest_on(e, middle), middle) for e in edges), default=0.0)

    return min(fitting, key=off_edge, default=None)


def outline_arcs(piece: Piece) -> Iterator[tuple[Arc, Point, Point]]:
    """Arcs of the outline's rings that belong to no opening of the piece.

    Each with its middle and the direction from there into the paper.
    """
    told = [path_bounds(o.path) for o in piece.openings]
    for ring in (piece.outline.outer, *piece.outline.holes):
        for segment in ring.segments:
            if not isinstance(segment, Arc):
                continue
            middle = point_at(segment, 0.5)
            if any(
                b[0] - _NEAR_MM <= middle[0] <= b[2] + _NEAR_MM
                and b[1] - _NEAR_MM <= middle[1] <= b[3] + _NEAR_MM
                for b in told
            ):
                continue
            along = direction_at(segment, 0.5)
            # Paper lies on the right-hand side of the outline as it is walked.
            yield segment, middle, (-along[1], along[0])
