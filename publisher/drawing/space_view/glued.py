"""Where glue, tape and pads are, laid on the facets in space."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence

import numpy as np
import shapely
from msgspec import Struct
from msgspec.structs import replace
from shapely.geometry.base import BaseGeometry

from publisher.assembly.types import Frame, Mark, Motion
from publisher.drawing.space_view.many import GRID_MM, united
from publisher.drawing.space_view.projected import Projected
from publisher.drawing.space_view.shapes import PieceShape, outline_paper, zone_papers
from publisher.drawing.space_view.strips import strip_width
from publisher.drawing.space_view.visible import clean

_WHOLE_FACE_INSET_MM = 3.0  # glue all over a face is hatched this far in from the edge
_INSET_SHARE = 0.25  # and no farther than so much of the width of a narrow piece

STICKS = frozenset({"glue", "tape", "pads"})
"""Marks of what holds papers together."""


class GlueArea(Struct, frozen=True):
    """A stretch of a glue zone on paper. ``through``: seen through the paper. ``what``: "glue",
    "tape" on both sides, a pad ("pads"), or glue that was there before ("wet")."""

    body: str
    facet: str
    zone: str
    area: BaseGeometry
    through: bool
    hatch_deg: float
    what: str = "glue"


def _hatch(area: BaseGeometry, through: bool) -> float:
    """A hatch that crosses the long way of the area at 60 degrees, the other way round where
    the glue is seen through the paper; in steps of 15 so that it keeps still."""
    box = shapely.minimum_rotated_rectangle(area)
    corners = shapely.get_coordinates(box)
    if len(corners) < 4:
        return 45.0
    sides = corners[1:3] - corners[:2]
    along = max(sides, key=lambda s: round(float(np.hypot(*s)), 2))
    long_way = math.degrees(math.atan2(-along[1], along[0]))
    turn = long_way + (-60.0 if through else 60.0)
    return (round(turn / 15.0) * 15.0 + 90.0) % 180.0 - 90.0


def own_items(items: Sequence[Projected], body: str) -> list[int]:
    """The places of what is seen of a body."""
    return [
        k
        for k, item in enumerate(items)
        if item.actor.body == body and not item.ghost and item.plane is not None
    ]


def zone_areas(shape: PieceShape, mark: Mark) -> list[tuple[str, str | None, BaseGeometry]]:
    """(zone name, its panel, its flat area); without names the whole piece takes glue."""
    if mark.boxes:
        return [(f"pad {k}", None, shapely.box(*b)) for k, b in enumerate(mark.boxes, start=1)]
    zones = [z for z in shape.piece.glue_zones if z.name in mark.names]
    found: list[tuple[str, str | None, BaseGeometry]] = []
    papers = zone_papers(shape.piece, zones)
    found += [(z.name, z.panel, paper) for z, paper in zip(zones, papers, strict=True)]
    named = {z.name for z in zones}
    if mark.names and named.issuperset(mark.names):
        return found
    paper = outline_paper(shape.piece)
    inset = min(_WHOLE_FACE_INSET_MM, _INSET_SHARE * strip_width(paper))
    whole = shapely.buffer(paper, -inset)
    panels = {p.name for p in shape.piece.panels} & set(mark.names) - named
    if not mark.names or panels == {shape.piece.name}:
        return [*found, (shape.piece.name, None, whole)]
    return [*found, *((name, name, whole) for name in sorted(panels))]


def glue_areas(
    marks: Iterable[Motion],
    shapes: Mapping[str, PieceShape],
    items: Sequence[Projected],
    seen: Sequence[BaseGeometry],
) -> list[GlueArea]:
    """Where the glue of some marks goes, as seen and as seen through the paper."""
    found: list[GlueArea] = []
    for mark in marks:
        if not isinstance(mark, Mark) or mark.what not in STICKS:
            continue
        first = len(found)
        facets = own_items(items, mark.body)
        if not facets:
            continue
        shape = shapes[items[facets[0]].actor.piece.name]
        zones = zone_areas(shape, mark)
        for k in facets:
            item = items[k]
            panel = shape.piece.facet(item.actor.facet).panel
            paper = shape.facets[item.actor.facet].paper
            for name, zone_panel, flat in zones:
                if zone_panel not in (None, panel):
                    continue
                area = item.flat_to_paper(shapely.intersection(flat, paper))
                open_part = clean(shapely.intersection(area, seen[k]))
                if item.face != mark.face:
                    open_part = shapely.Polygon()
                rest = clean(shapely.difference(area, open_part, grid_size=GRID_MM))
                for part, through in ((open_part, False), (rest, True)):
                    if not part.is_empty:
                        hatch = _hatch(area, through)
                        own = (mark.body, item.actor.facet, name)
                        found.append(GlueArea(*own, part, through, hatch, mark.what))
        if shape.smooth:
            found[first:] = _over_bends(found[first:])
    return _once(found)


def _once(areas: Sequence[GlueArea]) -> list[GlueArea]:
    """The same without what an earlier one has of the same paper: where strips meet at a corner
    they would be hatched twice."""
    taken: dict[tuple[str, str, bool], list[BaseGeometry]] = {}
    found: list[GlueArea] = []
    for one in areas:
        before = taken.setdefault((one.body, one.facet, one.through), [])
        rest = clean(shapely.difference(one.area, united(before))) if before else one.area
        before.append(one.area)
        if not rest.is_empty:
            found.append(replace(one, area=rest))
    return found


def _over_bends(areas: Sequence[GlueArea]) -> list[GlueArea]:
    """Glue on the strips of one bent panel is one area."""
    same: dict[tuple[str, bool], list[GlueArea]] = {}
    for one in areas:
        same.setdefault((one.zone, one.through), []).append(one)
    return [
        replace(own[0], area=united([g.area for g in own])) if len(own) > 1 else own[0]
        for own in same.values()
    ]


def wet_areas(
    wet: Iterable[Mark],
    shapes: Mapping[str, PieceShape],
    items: Sequence[Projected],
    seen: Sequence[BaseGeometry],
) -> list[GlueArea]:
    """Where glue that was spread before is seen."""
    return [replace(g, what="wet") for g in glue_areas(wet, shapes, items, seen) if not g.through]


def wet_before(frames: Sequence[Frame]) -> list[tuple[Mark, ...]]:
    """For each frame the glue that one before it has spread and that has met nothing yet."""
    found: list[tuple[Mark, ...]] = []
    wet: tuple[Mark, ...] = ()
    for frame in frames:
        found.append(wet)
        fresh = tuple(m for m in frame.motions if isinstance(m, Mark) and m.what == "glue")
        wet = tuple(
            replace(mark, names=rest) if rest else mark
            for mark in (*wet, *fresh)
            if (rest := _still_wet(mark, frame)) is not None
        )
    return found


def _still_wet(mark: Mark, frame: Frame) -> tuple[str, ...] | None:
    """The names of a mark that nothing holds to when a frame is done; None where nothing is left
    of it."""
    held = {
        name
        for bond in frame.after.bonds
        for body, facet in (bond.first, bond.second)
        if body == mark.body and bond.by == "glue"
        for name in (bond.zone or facet, facet)
    }
    if not mark.names:
        return None if held else ()
    rest = tuple(name for name in mark.names if name not in held)
    return rest or None
