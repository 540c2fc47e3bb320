"""Glue stays on its panel, keeps off folds, and is wide enough to hold."""

from __future__ import annotations

import math

import shapely

from publisher.checks.borders import CHORD_MM
from publisher.checks.context import Context, Results, failed, passed
from publisher.geometry.shapely_bridge import to_shapely
from publisher.model.types import GlueZone, Piece

LEAVES = "glue-leaves-panel"
NARROW = "glue-too-narrow"


def width_mm(polygon: shapely.Polygon) -> float:
    """The narrow side of the tightest rectangle round the zone."""
    box = shapely.minimum_rotated_rectangle(polygon)
    if not isinstance(box, shapely.Polygon):
        return 0.0
    c = list(box.exterior.coords)
    return min(math.dist(c[0], c[1]), math.dist(c[1], c[2]))


def check(context: Context) -> Results:
    least = context.practice("glue_width_least_mm")
    for piece in context.pattern.pieces:
        for zone in piece.glue_zones:
            yield from _zone(context, piece, zone, least)


def _zone(context: Context, piece: Piece, zone: GlueZone, least: float) -> Results:
    polygon = to_shapely(zone.region, CHORD_MM)
    home = shapely.unary_union(
        [to_shapely(f.region, CHORD_MM) for f in piece.facets if zone.panel in (None, f.panel)]
    )
    outside = float(polygon.difference(home.buffer(0.02)).area)
    width = width_mm(polygon)
    numbers = (("width_mm", width), ("area_mm2", float(polygon.area)), ("outside_mm2", outside))
    subject = f"{piece.name}: {zone.name}"
    where = zone.panel or piece.name
    if outside > 0.05:
        yield failed(
            LEAVES,
            subject,
            numbers,
            f"the glue at {zone.name} of {piece.name} runs off {where}",
            zone.span,
            notes=("Glue that runs over a fold or an edge sticks to what must stay free.",),
        )
    else:
        yield passed(LEAVES, subject, numbers, f"the glue at {zone.name} stays on {where}")
    if width < least - 1e-6:
        yield failed(
            NARROW,
            subject,
            numbers,
            f"the glue at {zone.name} of {piece.name} is {context.say(width)} wide,"
            f" {context.say(least)} is the least that holds",
            zone.span,
            severity="warning",
            ways_out=(f"make it at least {context.say(least)} wide",),
        )
    else:
        yield passed(NARROW, subject, numbers, f"the glue at {zone.name} is wide enough")
