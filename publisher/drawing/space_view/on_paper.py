"""Lines that lie on paper wherever it goes: what is drawn on it, slits once they are cut,
and what is cut and not yet pressed out."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import shapely
from shapely import LineString, MultiLineString
from shapely.geometry.base import BaseGeometry

from publisher.drawing.space_view.lines import Drawn
from publisher.drawing.space_view.marks import cut_round, only_lines, path_line
from publisher.drawing.space_view.projected import Projected
from publisher.drawing.space_view.shapes import PieceShape
from publisher.drawing.space_view.stage import Stage
from publisher.drawing.types import LineRole
from publisher.model.types import Piece


def drawn_lines(
    shapes: Mapping[str, PieceShape],
    items: Sequence[Projected],
    seen: Sequence[BaseGeometry],
    stage: Stage,
) -> list[Drawn]:
    """What is drawn or engraved on front faces, and slits on both, where they are seen. Those
    that a later step cuts are not there yet. What is drawn on a piece that is laid good side
    down is seen through it: it tells which end is the head."""
    lines: list[Drawn] = []
    cuts: dict[str, list[LineString]] = {}
    for k, item in enumerate(items):
        if item.ghost or item.clear or seen[k].is_empty:
            continue
        piece, body = item.actor.piece, item.actor.body
        if body not in cuts:
            cuts[body] = [*_slits(piece, body, stage), *_in_place(piece, body, stage)]
        kept: list[tuple[LineRole, list[LineString]]] = [("inner", cuts[body])]
        if item.face == "front":
            kept.append(("engrave", _drawn(piece)))
        elif body in stage.away:
            kept.append(("hidden", _drawn(piece)))
        for role, own in kept:
            if own:
                paper = shapes[piece.name].facets[item.actor.facet].paper
                flat = shapely.intersection(MultiLineString(own), paper)
                shown = only_lines(shapely.intersection(item.flat_to_paper(flat), seen[k]))
                if not shown.is_empty:
                    lines.append(Drawn(role, body, shown))
    return lines


def _drawn(piece: Piece) -> list[LineString]:
    return [path_line(path) for m in piece.marks if m.kind != "register" for path in m.paths]


def _slits(piece: Piece, body: str, stage: Stage) -> list[LineString]:
    slits = [o for o in piece.openings if o.kind == "slit" and not o.path.closed]
    return [path_line(o.path) for o in slits if (body, o.name) not in stage.unmade]


def _in_place(piece: Piece, body: str, stage: Stage) -> list[LineString]:
    """Round what is cut and not yet pressed out."""
    lying = stage.in_place - stage.unmade
    cuts = [o for o in piece.openings if (body, o.name) in lying] if lying else []
    rings = [path_line(hole) for hole in piece.outline.holes] if cuts else []
    return [line for opening in cuts for line in cut_round(opening, rings)]
