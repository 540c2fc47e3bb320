"""Slots that papers are slid into each other by, drawn as the openings that they are.

A slot is as wide as card is thick: at a picture's scale its two edges run into one line, which
looks drawn on the paper. Where slots act they are drawn so wide that paper ends on both sides.
"""

from __future__ import annotations

from collections.abc import Mapping

import shapely
from msgspec.structs import replace
from shapely import Polygon

from publisher.assembly.types import Frame, MoveMotion
from publisher.drawing.space_view.marks import path_line
from publisher.drawing.space_view.shapes import FacetShape, PieceShape
from publisher.model.types import Opening

_OPEN_MM = 1.4  # on paper, between the middles of its edges: so that white is seen between them


def open_slots(
    frame: Frame, shapes: Mapping[str, PieceShape], scale: float
) -> Mapping[str, PieceShape]:
    """The shapes of a picture, in which the slots that a frame's line names are wide enough to be
    seen as open. ``scale`` is paper mm per model mm."""
    if not any(isinstance(motion, MoveMotion) for motion in frame.motions):
        return shapes
    targets = (*frame.action.subjects, *frame.action.objects)
    named = {(t.piece, t.part) for t in targets if t.kind == "opening"}
    found = dict(shapes)
    for piece, name in sorted(named):
        for slot in shapes[piece].piece.openings if piece in shapes else ():
            if slot.name == name and slot.kind == "notch" and slot.width_mm * scale < _OPEN_MM:
                found[piece] = _widened(found[piece], slot, _OPEN_MM / scale)
    return found


def _widened(shape: PieceShape, slot: Opening, width_mm: float) -> PieceShape:
    """The same piece with a slot made wider, both ways alike."""
    more = (width_mm - slot.width_mm) / 2.0
    gap = shapely.buffer(Polygon(path_line(slot.path)), more, join_style="mitre")
    facets = {n: _cut(f, gap) if gap.intersects(f.paper) else f for n, f in shape.facets.items()}
    return replace(shape, facets=facets, rims={}, sheets={})


def _cut(facet: FacetShape, gap: Polygon) -> FacetShape:
    paper = max(shapely.get_parts(shapely.difference(facet.paper, gap)), key=shapely.area)
    edges = shapely.union(
        shapely.difference(facet.free_edges, gap),
        shapely.intersection(shapely.boundary(gap), facet.paper),
    )
    return FacetShape(paper, edges, facet.bounds)
