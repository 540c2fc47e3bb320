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
        box = path_bounds(ring)
        if any(_near(box, other) for other in (*known.edge, *known.holes, *boxes)):
            return None
        if not winding(ring.start, paper.outer):
            return None
        boxes.append(box)
    more = tuple(canonical_path(oriented(ring, clockwise=False)) for ring in rings)
    known.paper = Region(paper.outer, (*paper.holes, *more))
    known.holes = [*known.holes, *boxes]
    return known.paper


def _near(a: Bounds, b: Bounds) -> bool:
    return (
        a[0] - APART_MM <= b[2]
        and a[2] + APART_MM >= b[0]
        and a[1] - APART_MM <= b[3]
        and a[3] + APART_MM >= b[1]
    )
