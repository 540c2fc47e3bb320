"""Mouths of notches, arcs of an outline that are measures of their own, widths of zones."""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import pairwise

import shapely

from publisher.geometry.flatten import flattened
from publisher.geometry.measure import path_bounds
from publisher.geometry.path import Arc, Line, Point, Region, Segment
from publisher.geometry.segments import direction_at, nearest_on, point_at, same_circle
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

    Each with its middle and the direction from there into the paper. Arcs that run into other
    arcs at both ends are stretches of one curve, an ellipse's for example: nobody sets a radius
    for them.
    """
    told = [path_bounds(o.path) for o in piece.openings]
    for ring in (piece.outline.outer, *piece.outline.holes):
        segments = ring.segments
        for before, segment, after in zip(
            segments[-1:] + segments[:-1], segments, segments[1:] + segments[:1], strict=True
        ):
            if not isinstance(segment, Arc):
                continue
            if _runs_on(before, segment) and _runs_on(segment, after):
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


def score_arcs(piece: Piece) -> Iterator[tuple[Arc, Point, Point]]:
    """Arcs of curved scores, with middle and a direction, as ``outline_arcs`` gives them."""
    for score in piece.scores:
        segments = score.path.segments
        pairs = zip((None, *segments[:-1]), segments, (*segments[1:], None), strict=True)
        for before, segment, after in pairs:
            if not isinstance(segment, Arc):
                continue
            runs = [o is not None and _runs_on(o, segment) for o in (before, after)]
            if any(runs):
                continue
            along = direction_at(segment, 0.5)
            yield segment, point_at(segment, 0.5), (-along[1], along[0])


def _runs_on(a: Segment, b: Segment) -> bool:
    """Whether two arcs of different circles meet without a corner."""
    if not (isinstance(a, Arc) and isinstance(b, Arc)) or same_circle(a, b):
        return False
    u, v = direction_at(a, 1.0), direction_at(b, 0.0)
    return abs(u[0] * v[1] - u[1] * v[0]) < _NEAR_MM


def least_width(region: Region) -> tuple[float, Point]:
    """How wide the region is across its narrowest way, and the unit direction of that way.

    The least width of a convex shape lies square to one of its edges (Houle and Toussaint
    1988); arcs count as chords within 0.01 mm.
    """
    hull = shapely.MultiPoint(flattened(region.outer)).convex_hull
    points = [(x, y) for x, y in shapely.get_coordinates(hull)]
    best: tuple[float, Point] = (math.inf, (1.0, 0.0))
    for (x1, y1), (x2, y2) in pairwise(points):
        length = math.hypot(x2 - x1, y2 - y1)
        if length < _NEAR_MM:
            continue
        across = (-(y2 - y1) / length, (x2 - x1) / length)
        reaches = [(x - x1) * across[0] + (y - y1) * across[1] for x, y in points]
        width = max(reaches) - min(reaches)
        if width < best[0] - 1e-9:
            best = (width, across)
    return best
