"""Flat pieces as Shapely geometry: facets, free edges, hinges. Arcs become fine chords."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np
import shapely
from msgspec import Struct
from shapely import LineString, MultiLineString, Polygon
from shapely.geometry.base import BaseGeometry

from publisher.drawing.space_view.many import Geometries, many
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


def _free_edges(papers: Sequence[Polygon], hinges: Sequence[Sequence[LineString]]) -> Geometries:
    """The edges of each paper without those along its hinges."""
    rings = many(MultiLineString([paper.exterior, *paper.interiors]) for paper in papers)
    held = np.array([bool(own) for own in hinges], dtype=bool)
    if held.any():
        lines = many(line for own in hinges for line in own)
        at = np.repeat(np.arange(int(held.sum())), [len(own) for own in hinges if own])
        joints = shapely.multilinestrings(lines, indices=at)
        taken = shapely.buffer(joints, _ON_HINGE_MM, cap_style="flat")
        rings[held] = shapely.difference(rings[held], taken)
    return rings


def piece_shape(piece: Piece) -> PieceShape:
    """The piece as the views need it; the same for every frame of a story."""
    lines = tuple((hinge, LineString([hinge.start, hinge.end])) for hinge in piece.hinges)
    papers = [region_polygon(facet.region) for facet in piece.facets]
    shapely.prepare(many(papers))
    joints: dict[str, list[LineString]] = {facet.name: [] for facet in piece.facets}
    for hinge, line in lines:
        for name in dict.fromkeys((hinge.parent, hinge.child)):
            joints[name].append(line)
    edges = _free_edges(papers, list(joints.values()))
    facets = {name: FacetShape(papers[k], edges[k]) for k, name in enumerate(joints)}
    return PieceShape(piece, facets, lines)
