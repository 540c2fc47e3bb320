"""What an action does to a face: glue zones, scores and cuts, laid on the facets in space."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

import numpy as np
import shapely
from msgspec import Struct
from msgspec.structs import replace
from shapely import LineString, MultiLineString
from shapely.geometry.base import BaseGeometry

from publisher.assembly.types import FoldMotion, Frame, Mark
from publisher.drawing.space_view.fold_words import driven
from publisher.drawing.space_view.lines import NEAR_MM, Drawn
from publisher.drawing.space_view.many import GRID_MM, many, united
from publisher.drawing.space_view.projected import Projected, carried
from publisher.drawing.space_view.shapes import CHORD_MM, PieceShape, region_polygon
from publisher.drawing.space_view.sides import Backs, as_seen, other
from publisher.drawing.space_view.stage import Stage
from publisher.drawing.space_view.together import Together
from publisher.drawing.space_view.visible import clean
from publisher.drawing.types import LineRole
from publisher.geometry.flatten import flattened
from publisher.geometry.path import Path
from publisher.model.types import Opening

_NARROW_MM = 2.5  # what is narrower would be filled by the heavy line of a cut
_STRIP_MM = 1.6  # so near to each other cuts would fill what is between them
_STRIP_SHARE = 0.2  # where they run on so for as large a part of their length
_WHOLE_FACE_INSET_MM = 3.0  # glue all over a face is hatched this far in from the edge


STICKS = frozenset({"glue", "tape", "pads"})
"""Marks of what holds papers together."""


class GlueArea(Struct, frozen=True):
    """A stretch of a glue zone on paper. ``through``: seen through the paper. ``what``: "glue",
    "tape" on both sides, or a pad ("pads")."""

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


def _own(items: Sequence[Projected], body: str) -> list[int]:
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
    found += [(z.name, z.panel, region_polygon(z.region)) for z in zones]
    named = {z.name for z in zones}
    if mark.names and named.issuperset(mark.names):
        return found
    whole = shapely.buffer(region_polygon(shape.piece.outline), -_WHOLE_FACE_INSET_MM)
    panels = {p.name for p in shape.piece.panels} & set(mark.names) - named
    if not mark.names or panels == {shape.piece.name}:
        return [*found, (shape.piece.name, None, whole)]
    return [*found, *((name, name, whole) for name in sorted(panels))]


def glue_areas(
    frame: Frame,
    shapes: Mapping[str, PieceShape],
    items: Sequence[Projected],
    seen: Sequence[BaseGeometry],
) -> list[GlueArea]:
    """Where this frame's glue goes, as seen and as seen through the paper."""
    found: list[GlueArea] = []
    for mark in frame.motions:
        if not isinstance(mark, Mark) or mark.what not in STICKS:
            continue
        first = len(found)
        facets = _own(items, mark.body)
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


def path_line(path: Path) -> LineString:
    points = flattened(path, CHORD_MM)
    return LineString([*points, points[0]] if path.closed else points)


def only_lines(geometry: BaseGeometry) -> BaseGeometry:
    parts = [p for p in shapely.get_parts(geometry) if isinstance(p, LineString) and not p.is_empty]
    return MultiLineString(parts)


def fold_roles(frame: Frame, stage: Stage, backs: Backs) -> dict[tuple[str, str], LineRole]:
    """The folds that are being scored now, or made by the hand, as valley or mountain lines, by
    the side of the paper that is seen. What follows of itself is no work."""
    roles: dict[tuple[str, str], LineRole] = {}
    for motion in frame.motions:
        if isinstance(motion, Mark):
            if motion.what != "score":
                continue
            piece = stage.of(motion.body)[0].piece
            for score in piece.scores:
                if score.name in motion.names and score.fold is not None:
                    bend = as_seen(score.bend, motion.body, score.fold, backs)
                    roles[(motion.body, score.fold)] = bend
        elif isinstance(motion, FoldMotion):
            piece = stage.of(motion.body)[0].piece
            hand = (
                {name for name, *_ in motion.folds}
                if motion.shown
                else driven(frame, motion, piece)
            )
            for name, start, end in motion.folds:
                if name in hand and (abs(end) > abs(start) or start * end < 0.0):
                    bend = piece.fold(name).bend if end > 0 else other(piece.fold(name).bend)
                    roles[(motion.body, name)] = as_seen(bend, motion.body, name, backs)
    return roles


def marked_lines(
    frame: Frame,
    shapes: Mapping[str, PieceShape],
    items: Sequence[Projected],
    seen: Sequence[BaseGeometry],
    groups: Sequence[Together],
) -> list[Drawn]:
    """Scores that serve no fold, and cuts, as they are seen on the facets they cross. ``groups``
    that are seen whole and lie in a plane are crossed as one."""
    lines: list[Drawn] = []
    for mark in frame.motions:
        if not isinstance(mark, Mark) or mark.what not in ("score", "cut", "press"):
            continue
        own = _own(items, mark.body)
        if not own:
            continue
        piece = items[own[0]].actor.piece
        wanted: list[tuple[LineRole, LineString]] = []
        crowded = False
        if mark.what == "score":
            hinged = {h.fold for h in piece.hinges}
            back = items[own[0]].face == "back"
            wanted = [
                (other(s.bend) if back else s.bend, path_line(s.path))
                for s in piece.scores
                if s.name in mark.names and s.fold not in hinged
            ]
        else:
            named = [o for o in piece.openings if o.name in mark.names]
            holes = [path_line(hole) for hole in piece.outline.holes]
            wanted = [("cut", line) for o in named for line in cut_round(o, holes)]
            crowded = _crowded([line for _, line in wanted], items[own[0]])
            if not mark.names:
                rings = (piece.outline.outer, *piece.outline.holes)
                wanted = [("cut", path_line(ring)) for ring in rings]
        papers: dict[int, BaseGeometry]
        papers = {k: shapes[piece.name].facets[items[k].actor.facet].paper for k in own}
        areas = {k: seen[k] for k in own}
        for group in groups:
            if group.flat is not None and all(areas.get(k) is items[k].area for k in group.places):
                first, *rest = sorted(group.places)
                papers[first], areas[first] = group.flat, group.area
                for k in rest:
                    del papers[k], areas[k]
        ons = [items[k] for k in papers]
        for n, shown in _on_facets(
            [line for _, line in wanted], list(papers.values()), ons, list(areas.values())
        ):
            role = wanted[n][0]
            light = role == "cut" and (mark.what == "press" or crowded or _narrow(shown))
            ink: LineRole = "outline-moving" if light else role
            lines.append(Drawn(ink, mark.body, only_lines(shown)))
    return lines


def _on_facets(
    lines: Sequence[LineString],
    papers: Sequence[BaseGeometry],
    items: Sequence[Projected],
    seen: Sequence[BaseGeometry],
) -> list[tuple[int, BaseGeometry]]:
    """What is seen of flat lines on facets, facet by facet: the place of the line, and its
    stretch on paper. Lines whose box keeps off that of a facet are not tried on it."""
    flat, beside = many(lines), shapely.buffer(many(papers), NEAR_MM)
    near = shapely.buffer(many(seen), NEAR_MM)
    boxes, room = shapely.bounds(flat), shapely.bounds(beside)
    meet = (boxes[None, :, :2] <= room[:, None, 2:]) & (boxes[None, :, 2:] >= room[:, None, :2])
    facet, line = np.nonzero(meet.all(axis=2) & ~shapely.is_empty(near)[:, None])
    parts = shapely.intersection(flat[line], beside[facet])
    there = ~shapely.is_empty(parts)
    facet, line, parts = facet[there], line[there], parts[there]
    matrices = np.array([item.matrix for item in items])[facet]
    shifts = np.array([item.shift for item in items])[facet]
    shown = shapely.intersection(carried(parts, matrices, shifts), near[facet])
    kept = ~shapely.is_empty(shown)
    return list(zip(line[kept].tolist(), shown[kept].tolist(), strict=True))


def cut_round(opening: Opening, holes: Sequence[LineString]) -> list[LineString]:
    """What is cut of an opening: round each part of it, of all ``holes``, where bridges hold its
    middle, for who cut through them would have nothing left of it."""
    whole = path_line(opening.path)
    if opening.kind != "window":
        return [whole]
    area = shapely.buffer(shapely.Polygon(whole), 2.0 * CHORD_MM)
    shapely.prepare(area)
    parts = [ring for ring in holes if area.covers(ring)]
    return parts if len(parts) > 1 else [whole]


def _narrow(ring: BaseGeometry) -> bool:
    """Whether what a cut goes round is so narrow on paper that a heavy line would fill it."""
    areas = shapely.get_parts(shapely.polygonize([ring]))
    if not len(areas):
        return False
    return bool(2.0 * shapely.area(areas).sum() < _NARROW_MM * shapely.length(areas).sum())


def _crowded(cuts: Sequence[LineString], item: Projected) -> bool:
    """Whether cuts run beside each other so near on paper that heavy lines would fill the
    strip between them."""
    lines = item.flat_to_paper(np.array(cuts, dtype=object))
    for k, line in enumerate(lines):
        others: BaseGeometry = MultiLineString(np.delete(lines, k).tolist())
        beside = shapely.intersection(line, shapely.buffer(others, _STRIP_MM))
        if beside.length > _STRIP_SHARE * line.length:
            return True
    return False
