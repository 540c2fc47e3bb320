"""What must stay free of glue where a maker would err: beside what is glued in the same action.

Four rules, from the model alone:

- mouth: where glue runs along two or more sides of a panel, a side of the outline without glue
  is the way in.
- overhang: where a glued panel reaches beyond the part that it is glued to, what reaches beyond
  it would stick to what lies there.
- tongue, slit: under the tongue of a slit in a glued panel, or along a straight one, something
  goes in.
- mechanism: in a piece that folds as one loop, parts without glue beside parts with glue rise or
  turn when it opens.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise
from typing import Literal, TypeAlias

import shapely
from msgspec import Struct
from shapely import LineString, Polygon
from shapely.geometry.base import BaseGeometry

from publisher.assembly.types import FacetId, Frame, Mark, State
from publisher.drawing.space_view.crosses import FreeArea
from publisher.drawing.space_view.lists import gathered, listed, the
from publisher.drawing.space_view.many import united
from publisher.drawing.space_view.marks import path_line
from publisher.drawing.space_view.place_words import edge_side
from publisher.drawing.space_view.projected import Projected
from publisher.drawing.space_view.shapes import (
    PieceShape,
    outline_paper,
    region_polygon,
    zone_papers,
)
from publisher.drawing.space_view.visible import clean
from publisher.geometry.space import lift
from publisher.model.types import GlueZone, Piece

Reason: TypeAlias = Literal["mouth", "overhang", "tongue", "slit", "mechanism"]

_DEEP_MM = 14.0  # so far in from an open edge is marked at most
_GLUED_SHARE = 0.6  # a side with glue along as much of it is closed
_LONG_MM = 20.0  # a shorter gap between glue is no way in
_WIDE_MM = 4.0  # what reaches less far beyond its partner is ease, not overhang
_BESIDE_MM = 0.6
_ROUND_MM = 2.0  # so far round a slit glue would still hold it
_TONGUE_MM2 = 1.0  # a slit that bends round less paper than this leaves no tongue


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
                found += _slits(mark, shape, facet.name, own)
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


def _slits(
    mark: Mark, shape: PieceShape, facet: str, zones: Sequence[GlueZone]
) -> Iterator[Spared]:
    """Under slits that lie within a panel; one that runs over a fold is part of a mechanism."""
    paper = shape.facets[facet].paper
    whole = Polygon(paper.exterior)
    for opening in shape.piece.openings:
        if opening.kind != "slit":
            continue
        line = path_line(opening.path)
        if not shapely.contains(whole, line):
            continue
        glue = shapely.buffer(_glued(shape.piece, zones), _BESIDE_MM)
        tongue = shapely.convex_hull(line)
        why: Reason = "tongue" if tongue.area > _TONGUE_MM2 else "slit"
        round_it = shapely.buffer(tongue, _ROUND_MM)
        under = shapely.difference(round_it, glue)
        for name, own in shape.facets.items():  # a tongue is a facet of its own
            area = clean(shapely.intersection(under, own.paper))
            if not area.is_empty:
                panel = shape.piece.facet(name).panel
                yield Spared(mark.body, name, panel, mark.face, why, (opening.name,), area)


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
) -> list[FreeArea]:
    """The areas on paper: as far as they are seen, and all of them where they lie on the far
    side, as glue is drawn; a mechanism's as one, and what is round a slit."""
    areas: dict[tuple[object, bool], list[BaseGeometry]] = {}
    for n, one in enumerate(found):
        whole = one.why in ("mechanism", "tongue", "slit")
        key = (one.body, one.why, one.where) if whole else n
        for item, shown in zip(items, seen, strict=True):
            if item.ghost or item.plane is None or item.actor.id != (one.body, one.facet):
                continue
            part = item.flat_to_paper(one.area)
            through = item.face != one.face
            if not through:
                part = clean(shapely.intersection(part, shown))
            if not part.is_empty:
                areas.setdefault((key, through), []).append(part)
    return [FreeArea(united(own), through) for (_, through), own in areas.items()]


def spared_words(found: Sequence[Spared], pieces: Mapping[str, Piece], state: State) -> list[str]:
    """What stays free, in sentences; edges by where they are as the piece lies."""
    sentences = []
    rising: list[str] = []
    cut: dict[tuple[str, Reason], list[str]] = {}
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
        elif one.why == "mechanism":
            rising.append(whole)
        else:
            cut.setdefault((whole, one.why), []).extend(one.where)
    for (whole, why), names in cut.items():
        they = "it" if len(set(names)) == 1 else "they"
        along, must = ("", "lift") if why == "tongue" else ("the paper along ", "open")
        sentences.append(
            f"Keep {along}{gathered(names)} of the {whole} free of glue: {they} must {must}."
        )
    for whole in dict.fromkeys(rising):
        sentences.append(
            f"Keep the parts of the {whole} that move when it opens free of glue; their place is "
            "marked with crosses."
        )
    return list(dict.fromkeys(sentences))
