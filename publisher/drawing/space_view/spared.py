"""What must stay free of glue where a maker would err: beside what is glued in the same action.

Three rules, from the model alone:

- mouth: where glue runs along two or more sides of a panel, a side of the outline without glue
  is the way in.
- overhang: where a glued panel reaches beyond the part that it is glued to, what reaches beyond
  it would stick to what lies there.
- mechanism: in a piece that folds as one loop, parts without glue beside parts with glue rise or
  turn when it opens.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise
from typing import Literal, TypeAlias

import numpy as np
import shapely
from msgspec import Struct
from shapely import LineString, Polygon
from shapely.geometry.base import BaseGeometry

from publisher.assembly.types import FacetId, Frame, Mark, State
from publisher.drawing.space_view.ink import area_paths
from publisher.drawing.space_view.lists import listed, the
from publisher.drawing.space_view.many import united
from publisher.drawing.space_view.place_words import edge_side
from publisher.drawing.space_view.projected import Projected
from publisher.drawing.space_view.shapes import (
    PieceShape,
    outline_paper,
    region_polygon,
    zone_papers,
)
from publisher.drawing.space_view.visible import clean
from publisher.drawing.types import Fill, Item
from publisher.geometry.path import Point
from publisher.geometry.space import lift
from publisher.model.types import GlueZone, Piece

Reason: TypeAlias = Literal["mouth", "overhang", "mechanism"]

_DEEP_MM = 10.0  # so far in from an open edge is marked at most
_GLUED_SHARE = 0.6  # a side with glue along as much of it is closed
_LONG_MM = 20.0  # a shorter gap between glue is no way in
_WIDE_MM = 4.0  # what reaches less far beyond its partner is ease, not overhang
_BESIDE_MM = 0.6
_CROSS_MM, _ARM_MM, _STEP_MM = 0.36, 0.8, 3.6  # of the crosses on paper
_ROOM_MM = 2.0  # about one cross


class Spared(Struct, frozen=True):
    """A flat area of a facet that must stay free, and why. ``where`` are the sides of the panel
    that are open, or the piece beyond which it reaches."""

    body: str
    facet: str
    panel: str
    face: str
    why: Reason
    where: tuple[str, ...]
    area: BaseGeometry


def spared(
    frame: Frame, shapes: Mapping[str, PieceShape], pieces: Mapping[str, Piece]
) -> list[Spared]:
    """What this frame's glue must not touch; ``pieces`` by body."""
    found: list[Spared] = []
    for mark in frame.motions:
        if not isinstance(mark, Mark) or mark.what not in ("glue", "tape"):
            continue
        piece = pieces[mark.body]
        shape = shapes[piece.name]
        zones = [z for z in piece.glue_zones if z.name in mark.names]
        for facet in piece.facets:
            own = [z for z in zones if z.panel in (None, facet.panel)]
            if own:
                beyond = list(_overhangs(frame, mark, shapes, pieces, facet.name, own))
                found += beyond or _mouths(mark, shape, facet.name, own)
        if zones:
            found += _mechanism(mark, piece, zones)
    return found


def _glued(piece: Piece, zones: Sequence[GlueZone]) -> BaseGeometry:
    return united(zone_papers(piece, zones))


def _sides(lines: BaseGeometry, paper: Polygon) -> dict[str, list[LineString]]:
    """The straight stretches of edges by the side of the panel that they are on, named as the
    pattern names sides: seen on the front face, y down."""
    left, top, right, bottom = paper.bounds
    found: dict[str, list[LineString]] = {}
    for line in shapely.get_parts(lines):
        for (x0, y0), (x1, y1) in pairwise(shapely.get_coordinates(line).tolist()):
            x, y = (x0 + x1) / 2.0, (y0 + y1) / 2.0
            far = {"left": x - left, "right": right - x, "top": y - top, "bottom": bottom - y}
            level = abs(x1 - x0) >= abs(y1 - y0)
            names = ("top", "bottom") if level else ("left", "right")
            side = min(names, key=lambda name: far[name])
            found.setdefault(side, []).append(LineString([(x0, y0), (x1, y1)]))
    return found


def _long(lines: Sequence[LineString]) -> float:
    return float(sum(line.length for line in lines))


def _mouths(
    mark: Mark, shape: PieceShape, facet: str, zones: Sequence[GlueZone]
) -> Iterator[Spared]:
    paper = shape.facets[facet].paper
    rim = shapely.get_exterior_ring(outline_paper(shape.piece))
    free = shapely.intersection(shape.facets[facet].free_edges, shapely.buffer(rim, 0.01))
    free = shapely.simplify(shapely.line_merge(free), 0.01)
    glue = shapely.buffer(_glued(shape.piece, zones), _BESIDE_MM)
    whole = _sides(free, paper)
    rest = _sides(shapely.difference(free, glue), paper)
    closed = [n for n in whole if _long(rest.get(n, [])) < (1.0 - _GLUED_SHARE) * _long(whole[n])]
    opened = [n for n in whole if _long(rest.get(n, [])) > max(_LONG_MM, 0.5 * _long(whole[n]))]
    if len(closed) < 2 or not opened:
        return
    left, top, right, bottom = paper.bounds
    deep = min(_DEEP_MM, min(right - left, bottom - top) / 3.0)
    lines = shapely.line_merge(shapely.union_all([e for name in opened for e in rest[name]]))
    strip = shapely.buffer(lines, deep, cap_style="flat")
    area = clean(shapely.difference(shapely.intersection(strip, paper), glue))
    panel = shape.piece.facet(facet).panel
    yield Spared(mark.body, facet, panel, mark.face, "mouth", tuple(sorted(opened)), area)


def _overhangs(
    frame: Frame,
    mark: Mark,
    shapes: Mapping[str, PieceShape],
    pieces: Mapping[str, Piece],
    facet: str,
    zones: Sequence[GlueZone],
) -> Iterator[Spared]:
    names = {z.name for z in zones}
    own: FacetId = (mark.body, facet)
    partners = [
        other
        for bond in frame.after.bonds
        if bond not in frame.before.bonds
        for this, other in ((bond.first, bond.second), (bond.second, bond.first))
        if this == own and other[0] != mark.body and (bond.zone in names or not bond.zone)
    ]
    if not partners:
        return
    pose = frame.after.body(mark.body).facet_pose(facet).inverse()
    under = []
    for body, name in partners:
        there = pose.after(frame.after.body(body).facet_pose(name))
        if abs(there.normal[2]) < 0.999:
            return
        ring = shapes[pieces[body].name].facets[name].paper.exterior.coords
        points = [there.apply(lift((x, y))) for x, y in ring]
        under.append(Polygon([(x, -y) for x, y, _ in points]))
    paper = shapes[pieces[mark.body].name].facets[facet].paper
    covered = shapely.buffer(united(under), _BESIDE_MM)
    rest = shapely.difference(paper, shapely.union(covered, _glued(pieces[mark.body], zones)))
    wide = shapely.buffer(shapely.buffer(rest, -_WIDE_MM / 2.0), _WIDE_MM / 2.0, join_style="mitre")
    area = clean(shapely.intersection(wide, rest))
    if not area.is_empty and not shapely.covers(covered, paper):
        where = tuple(dict.fromkeys(pieces[body].name for body, _ in partners))
        panel = pieces[mark.body].facet(facet).panel
        yield Spared(mark.body, facet, panel, mark.face, "overhang", where, area)


def _mechanism(mark: Mark, piece: Piece, zones: Sequence[GlueZone]) -> Iterator[Spared]:
    if len(piece.hinges) < len(piece.facets) or any(f.smooth for f in piece.folds):
        return
    glue = _glued(piece, zones)
    for facet in piece.facets:
        area = region_polygon(facet.region)
        if shapely.intersection(area, glue).area < _BESIDE_MM:
            yield Spared(mark.body, facet.name, facet.panel, mark.face, "mechanism", (), area)


def spared_areas(
    found: Sequence[Spared], items: Sequence[Projected], seen: Sequence[BaseGeometry]
) -> list[BaseGeometry]:
    """The areas on paper: as far as they are seen, and all of them where they lie on the far
    side, as glue is drawn; a mechanism's as one."""
    areas: dict[object, list[BaseGeometry]] = {}
    for n, one in enumerate(found):
        key = (one.body, one.why) if one.why == "mechanism" else n
        for item, shown in zip(items, seen, strict=True):
            if item.ghost or item.plane is None or item.actor.id != (one.body, one.facet):
                continue
            part = item.flat_to_paper(one.area)
            if item.face == one.face:
                part = clean(shapely.intersection(part, shown))
            if not part.is_empty:
                areas.setdefault(key, []).append(part)
    return [united(own) for own in areas.values()]


def spared_items(areas: Sequence[BaseGeometry], shift: Point, prefix: str = "") -> Iterator[Item]:
    """Crosses in rows along what stays free."""
    parts = [p for area in areas for p in shapely.get_parts(area) if isinstance(p, Polygon)]
    crosses = [_cross(x, y) for part in parts for x, y in _rows(part)]
    if crosses:
        yield Fill("no-glue", area_paths(united(crosses), shift), id=f"{prefix}free-of-glue")


def _rows(area: Polygon) -> Iterator[Point]:
    """Points in an area, in rows along its long way, evenly from its middle."""
    box = shapely.get_coordinates(shapely.minimum_rotated_rectangle(area))
    if len(box) < 5:
        return
    sides = [box[1] - box[0], box[2] - box[1]]
    middle = (box[0] + box[2]) / 2.0
    along, across = sorted(sides, key=lambda s: -round(float(np.hypot(*s)), 3))
    long, wide = float(np.hypot(*along)), float(np.hypot(*across))
    rows = max(1, round((wide - _ROOM_MM) / _STEP_MM) + 1)
    columns = max(1, math.floor((long - _ROOM_MM) / _STEP_MM) + 1)
    for row in range(rows):
        for column in range(columns):
            u, v = column - (columns - 1) / 2.0, row - (rows - 1) / 2.0
            x, y = middle + along / long * (u * _STEP_MM) + across / wide * (v * _STEP_MM)
            if shapely.contains_xy(area, x, y):
                yield float(x), float(y)


def _cross(x: float, y: float) -> BaseGeometry:
    arms = [
        LineString([(x - _ARM_MM, y - _ARM_MM * s), (x + _ARM_MM, y + _ARM_MM * s)])
        for s in (1.0, -1.0)
    ]
    return shapely.buffer(shapely.union_all(arms), _CROSS_MM / 2.0, cap_style="flat")


def spared_words(found: Sequence[Spared], pieces: Mapping[str, Piece], state: State) -> list[str]:
    """What stays free, in sentences; edges by where they are as the piece lies."""
    sentences = []
    rising: list[str] = []
    for one in found:
        whole = pieces[one.body].name
        panel = "" if one.panel == whole else f"{the([one.panel])} of "
        if one.why == "mouth":
            pose = state.body(one.body).facet_pose(one.facet)
            where = [edge_side(name, pose) for name in one.where]
            edges = f"the {listed(where)} edge{'s' if len(one.where) > 1 else ''}"
            stay = "they are the way in" if len(one.where) > 1 else "it is the way in"
            sentences.append(f"Keep {edges} of {panel}the {whole} free of glue: {stay}.")
        elif one.why == "overhang":
            beyond = the(one.where)
            sentences.append(
                f"Keep the rest of {panel}the {whole} free of glue: it reaches beyond {beyond}."
            )
        else:
            rising.append(whole)
    for whole in dict.fromkeys(rising):
        sentences.append(
            f"Keep the parts of the {whole} that move when it opens free of glue; their place is "
            "marked with crosses."
        )
    return sentences
