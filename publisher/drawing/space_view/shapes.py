"""Flat pieces as Shapely geometry: facets, free edges, hinges. Arcs become fine chords."""

from __future__ import annotations

from collections.abc import Mapping

import shapely
from msgspec import Struct
from shapely import LineString, MultiLineString, Polygon
from shapely.geometry.base import BaseGeometry

from publisher.geometry.flatten import flattened
from publisher.geometry.path import Region
from publisher.model.types import Hinge, Piece

CHORD_MM = 0.03
_ON_HINGE_MM = 1e-3


def region_polygon(region: Region) -> Polygon:
    """The region with arcs as chords within ``CHORD_MM``."""
    return Polygon(
        flattened(region.outer, CHORD_MM), [flattened(hole, CHORD_MM) for hole in region.holes]
    )


class FacetShape(Struct, frozen=True):
    """One facet, flat: its paper, and its edges that no hinge joins to another facet."""

    paper: Polygon
    free_edges: BaseGeometry


class PieceShape(Struct, frozen=True):
    """One piece, flat. ``hinges`` are (hinge, its line)."""

    piece: Piece
    facets: Mapping[str, FacetShape]
    hinges: tuple[tuple[Hinge, LineString], ...]


def _free_edges(paper: Polygon, hinges: list[LineString]) -> BaseGeometry:
    rings = MultiLineString([paper.exterior, *paper.interiors])
    if not hinges:
        return rings
    taken = shapely.buffer(MultiLineString(hinges), _ON_HINGE_MM, cap_style="flat")
    return shapely.difference(rings, taken)


def piece_shape(piece: Piece) -> PieceShape:
    """The piece as the views need it; the same for every frame of a story."""
    lines = tuple((hinge, LineString([hinge.start, hinge.end])) for hinge in piece.hinges)
    facets = {}
    for facet in piece.facets:
        paper = region_polygon(facet.region)
        shapely.prepare(paper)
        own = [line for hinge, line in lines if facet.name in (hinge.parent, hinge.child)]
        facets[facet.name] = FacetShape(paper, _free_edges(paper, own))
    return PieceShape(piece, facets, lines)
