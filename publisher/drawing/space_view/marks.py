"""What an action does to a face: scores and cuts, laid on the facets in space."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np
import shapely
from shapely import LineString, MultiLineString
from shapely.geometry.base import BaseGeometry

from publisher.assembly.types import FoldMotion, Frame, Mark
from publisher.drawing.space_view.fold_words import driven
from publisher.drawing.space_view.glued import own_items
from publisher.drawing.space_view.lines import NEAR_MM, Drawn
from publisher.drawing.space_view.many import many
from publisher.drawing.space_view.projected import Projected, carried
from publisher.drawing.space_view.shapes import CHORD_MM, PieceShape
from publisher.drawing.space_view.sides import Backs, as_seen, other
from publisher.drawing.space_view.stage import Stage
from publisher.drawing.space_view.together import Together
from publisher.drawing.types import LineRole
from publisher.geometry.flatten import flattened
from publisher.geometry.path import Path
from publisher.model.types import Opening

_NARROW_MM = 2.5  # what is narrower would be filled by the heavy line of a cut
_STRIP_MM = 1.6  # so near to each other cuts would fill what is between them
_STRIP_SHARE = 0.2  # where they run on so for as large a part of their length


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
        own = own_items(items, mark.body)
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
        near = shapely.dwithin(line, lines, _STRIP_MM)
        near[k] = False
        others: BaseGeometry = MultiLineString(lines[near].tolist())
        beside = shapely.intersection(line, shapely.buffer(others, _STRIP_MM))
        if beside.length > _STRIP_SHARE * line.length:
            return True
    return False
