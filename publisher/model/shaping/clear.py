"""Holes cut where nothing is near: no lines meet, so that nothing has to be worked out."""

from __future__ import annotations

from collections.abc import Sequence

from msgspec import Struct, field

from publisher.geometry.canonical import canonical_path, oriented
from publisher.geometry.measure import Bounds, path_bounds, segment_bounds, winding
from publisher.geometry.path import Path, Region

APART_MM = 0.01
"""What lies further apart has nothing to do with each other: far more than points that are one."""


class Known(Struct):
    """Where the edges of a paper lie, so that hundreds of windows need not ask each time."""

    paper: Region | None = None
    edge: list[Bounds] = field(default_factory=list)
    holes: list[Bounds] = field(default_factory=list)

    def look_at(self, paper: Region) -> None:
        if paper is not self.paper:
            self.paper = paper
            self.edge = [segment_bounds(s) for s in paper.outer.segments]
            self.holes = [path_bounds(hole) for hole in paper.holes]


def cut_clear(known: Known, paper: Region, rings: Sequence[Path]) -> Region | None:
    """The paper with the rings as further holes; None where one of them comes near an edge, a
    hole or another one, or does not lie in the paper."""
    known.look_at(paper)
    boxes: list[Bounds] = []
    for ring in rings:
        x0, y0, x1, y1 = path_bounds(ring)
        left, top = x0 - APART_MM, y0 - APART_MM
        right, bottom = x1 + APART_MM, y1 + APART_MM
        for near in (known.edge, known.holes, boxes):
            for a, b, c, d in near:
                if left <= c and a <= right and top <= d and b <= bottom:
                    return None
        if not winding(ring.start, paper.outer):
            return None
        boxes.append((x0, y0, x1, y1))
    more = tuple(canonical_path(oriented(ring, clockwise=False)) for ring in rings)
    known.paper = Region(paper.outer, (*paper.holes, *more))
    known.holes = [*known.holes, *boxes]
    return known.paper
