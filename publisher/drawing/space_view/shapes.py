"""Flat pieces as Shapely geometry: facets, free edges, hinges. Arcs become fine chords."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

import numpy as np
import shapely
from msgspec import Struct
from shapely import LineString, Polygon
from shapely.geometry.base import BaseGeometry

from publisher.drawing.space_view.camera import Array
from publisher.drawing.space_view.many import Geometries, united
from publisher.geometry.flatten import flattened
from publisher.geometry.path import Region
from publisher.model.kept import kept
from publisher.model.types import GlueZone, Hinge, Piece

CHORD_MM = 0.03
_ON_HINGE_MM = 1e-3
_PARTED_MM = 1e-7


def region_polygon(region: Region) -> Polygon:
    """The region with arcs as chords within ``CHORD_MM``."""
    return Polygon(
        flattened(region.outer, CHORD_MM), [flattened(hole, CHORD_MM) for hole in region.holes]
    )


@kept
def outline_paper(piece: Piece) -> Polygon:
    """The whole piece, windows and all."""
    return region_polygon(piece.outline)


def zone_papers(piece: Piece, zones: Iterable[GlueZone]) -> list[Polygon]:
    """The flat areas of some glue zones of a piece."""
    known = _zone_papers(piece)
    return [known[id(zone)] for zone in zones]


@kept
def _zone_papers(piece: Piece) -> dict[int, Polygon]:
    return {id(zone): region_polygon(zone.region) for zone in piece.glue_zones}


class FacetShape(Struct, frozen=True):
    """One facet, flat: its paper, and its edges that no hinge joins to another facet."""

    paper: Polygon
    free_edges: BaseGeometry
    bounds: tuple[float, float, float, float]


class PieceShape(Struct, frozen=True):
    """One piece, flat. ``hinges`` are (hinge, its line), ``of_fold`` the first hinge of each
    fold, ``neighbours`` for each facet the folds at which it hangs with the facet beyond.
    ``parted`` are pairs of facets, both ways round, that a straight line along a hinge of
    theirs keeps apart as the piece lies flat. ``smooth`` are the folds that are bends, ``bend_of``
    gives for each facet at one the first of those that bend as one with it.
    ``rims`` remembers the outer rings of facets that lie flat together, ``sheets`` their paper."""

    piece: Piece
    facets: Mapping[str, FacetShape]
    hinges: tuple[tuple[Hinge, LineString], ...]
    of_fold: Mapping[str, Hinge]
    neighbours: Mapping[str, Sequence[tuple[str, str]]]
    parted: Mapping[tuple[str, str], Hinge]
    smooth: frozenset[str]
    bend_of: Mapping[str, str]
    rims: dict[tuple[str, ...], Array]
    sheets: dict[tuple[str, ...], BaseGeometry]

    def sheet(self, names: tuple[str, ...]) -> BaseGeometry:
        """The paper of facets that lie flat together, as one."""
        if names not in self.sheets:
            self.sheets[names] = united(self.facets[name].paper for name in names)
        return self.sheets[names]


def _polygons(regions: Sequence[Region]) -> Geometries:
    """``region_polygon`` of many at once."""
    outer = [flattened(region.outer, CHORD_MM) for region in regions]
    of = np.repeat(np.arange(len(outer)), [len(ring) for ring in outer])
    papers: Any = shapely.polygons(shapely.linearrings(np.concatenate(outer), indices=of))
    for k, region in enumerate(regions):
        if region.holes:
            papers[k] = region_polygon(region)
    return np.asarray(papers)


def _free_edges(papers: Geometries, joints: Sequence[Sequence[int]], lines: Geometries) -> Any:
    """The edges of each paper without those along its hinges (places in ``lines``)."""
    edges, of = shapely.get_rings(papers, return_index=True)
    points, ring = shapely.get_coordinates(edges, return_index=True)
    runs: Any = shapely.linestrings(points, indices=ring)
    rings: Any = shapely.multilinestrings(runs, indices=of)
    held = np.array([bool(own) for own in joints], dtype=bool)
    if held.any():
        at = np.repeat(np.arange(int(held.sum())), [len(own) for own in joints if own])
        own_lines = shapely.multilinestrings(lines[[k for own in joints for k in own]], indices=at)
        taken = shapely.buffer(own_lines, _ON_HINGE_MM, cap_style="flat")
        rings[held] = shapely.difference(rings[held], taken)
    return rings


@kept
def piece_shape(piece: Piece) -> PieceShape:
    """The piece as the views need it; the same for every picture."""
    names = [facet.name for facet in piece.facets]
    papers = _polygons([facet.region for facet in piece.facets])
    shapely.prepare(papers)
    lines: Any = np.empty(0, dtype=object)
    if piece.hinges:
        lines = shapely.linestrings([(hinge.start, hinge.end) for hinge in piece.hinges])
    joints: dict[str, list[int]] = {name: [] for name in names}
    neighbours: dict[str, list[tuple[str, str]]] = {name: [] for name in names}
    for k, hinge in enumerate(piece.hinges):
        for name in dict.fromkeys((hinge.parent, hinge.child)):
            joints[name].append(k)
        neighbours[hinge.parent].append((hinge.fold, hinge.child))
        neighbours[hinge.child].append((hinge.fold, hinge.parent))
    edges = _free_edges(papers, list(joints.values()), lines)
    bounds = shapely.bounds(papers).tolist()
    facets = {n: FacetShape(papers[k], edges[k], bounds[k]) for k, n in enumerate(names)}
    first = {hinge.fold: hinge for hinge in reversed(piece.hinges)}
    together = tuple(zip(piece.hinges, lines.tolist(), strict=True))
    smooth = frozenset(fold.name for fold in piece.folds if fold.smooth)
    parted = _parted(piece, facets)
    return PieceShape(
        piece, facets, together, first, neighbours, parted, smooth, _bends(piece, smooth), {}, {}
    )


def _bends(piece: Piece, smooth: frozenset[str]) -> dict[str, str]:
    found: dict[str, list[str]] = {}
    for hinge in piece.hinges:
        if hinge.fold in smooth:
            one = found.setdefault(hinge.parent, [hinge.parent])
            other = found.setdefault(hinge.child, [hinge.child])
            if one is not other:
                one += other
                found |= dict.fromkeys(other, one)
    return {name: own[0] for name, own in found.items()}


def _parted(piece: Piece, facets: Mapping[str, FacetShape]) -> dict[tuple[str, str], Hinge]:
    found = {}
    for hinge in piece.hinges:
        start, end = np.array(hinge.start), np.array(hinge.end)
        run = (end - start) / float(np.hypot(*(end - start)))
        sides = []
        for name in (hinge.parent, hinge.child):
            from_start = shapely.get_coordinates(facets[name].paper) - start
            sides.append(run[0] * from_start[:, 1] - run[1] * from_start[:, 0])
        # start -> end has the parent on its right as seen with y down, the child on its left
        if sides[0].min() > -_PARTED_MM and sides[1].max() < _PARTED_MM:
            found[hinge.parent, hinge.child] = found[hinge.child, hinge.parent] = hinge
    return found
