"""The room that bodies take in the world."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TypeAlias

from publisher.assembly.types import Body
from publisher.geometry.measure import path_bounds
from publisher.geometry.space import Vector, lift
from publisher.model.kept import kept
from publisher.model.types import Piece

Box: TypeAlias = tuple[tuple[float, ...], tuple[float, ...]]


def box_of(body: Body, piece: Piece) -> Box:
    """Least and greatest coordinates in the world."""
    poses = dict(body.facets)
    points = [
        poses[name].apply(corner) for name, corners in _corners(piece).items() for corner in corners
    ]
    columns = list(zip(*points, strict=True))
    return tuple(min(c) for c in columns), tuple(max(c) for c in columns)


@kept
def _corners(piece: Piece) -> Mapping[str, tuple[Vector, ...]]:
    """The corners of the flat box round each facet."""
    found = {}
    for facet in piece.facets:
        x0, y0, x1, y1 = path_bounds(facet.region.outer)
        found[facet.name] = tuple(map(lift, ((x0, y0), (x1, y0), (x1, y1), (x0, y1))))
    return found
