"""How much glue: areas and lengths from the glue zones and the mats."""

from __future__ import annotations

import math
from itertools import pairwise

from publisher.geometry.measure import area
from publisher.geometry.path import Region
from publisher.model.types import MatOf, Pattern, Piece


def glued_mats(pattern: Pattern) -> tuple[Piece, ...]:
    """The mats that a step glues down over their whole back."""
    glued = {
        target.piece
        for step in pattern.steps
        for action in step.actions
        if action.verb == "glue" and action.relation
        for target in action.subjects
        if target.kind == "piece"
    }
    return tuple(p for p in pattern.pieces if p.name in glued and isinstance(p.derived, MatOf))


def glue_area_mm2(pattern: Pattern) -> float:
    """How much paper takes glue: every zone of every copy, and the backs of glued mats."""
    zones = sum(area(z.region) * p.copies for p in pattern.pieces for z in p.glue_zones)
    mats = sum(area(p.outline) * p.copies for p in glued_mats(pattern))
    return zones + mats


def glue_line_mm(pattern: Pattern) -> float:
    """How long the lines of glue, or strips of tape, are that the zones take."""
    return sum(zone_length_mm(z.region) * p.copies for p in pattern.pieces for z in p.glue_zones)


def zone_length_mm(region: Region) -> float:
    """The long side of the narrowest rectangle round a zone. The width of a convex polygon is
    found between an edge and a corner (from memory: Houle and Toussaint 1988), so that the
    directions of the hull's edges are all that must be tried."""
    # Shapely takes a while to import, and not everybody glues.
    import shapely

    from publisher.geometry.shapely_bridge import to_shapely

    corners = shapely.get_coordinates(to_shapely(region).convex_hull).tolist()
    best = (math.inf, 0.0)
    for (x1, y1), (x2, y2) in pairwise(corners):
        length = math.hypot(x2 - x1, y2 - y1)
        if length < 1e-9:
            continue
        ux, uy = (x2 - x1) / length, (y2 - y1) / length
        along = [x * ux + y * uy for x, y in corners]
        across = [y * ux - x * uy for x, y in corners]
        sides = (max(along) - min(along), max(across) - min(across))
        best = min(best, (round(min(sides), 6), max(sides)))
    return best[1]
