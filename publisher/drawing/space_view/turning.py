"""What turns about a fold, and the way that a point of it travels in space."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from publisher.assembly.types import FoldMotion
from publisher.drawing.space_view.camera import Array
from publisher.drawing.space_view.many import many
from publisher.drawing.space_view.shapes import PieceShape
from publisher.drawing.space_view.stage import Stage
from publisher.geometry.path import Point
from publisher.geometry.space import add, cross, dot, lift, scaled, sub, unit
from publisher.model.types import Hinge

_SAMPLES = 15
LEAST_DEG = 60.0
_OUT = 0.86  # how far out from the hinge the travelling point lies, as a part of the facet
_FLAT_DEG = 0.5
_JOIN_MM = 1e-4  # strips grow so much before they are made one


def turning_facet(shape: PieceShape, hinge: Hinge, moving: frozenset[str]) -> str:
    """The facet at a hinge that turns about it; where both travel, the one farther from what
    stands still, and the child where all travel."""
    if (hinge.child in moving) != (hinge.parent in moving):
        return hinge.child if hinge.child in moving else hinge.parent
    found, ways = {hinge.child}, [hinge.child]
    while ways:
        for fold, beyond in shape.neighbours[ways.pop()]:
            if fold == hinge.fold or beyond in found:
                continue
            if beyond not in moving:
                return hinge.parent
            found.add(beyond)
            ways.append(beyond)
    return hinge.child if hinge.child in moving else hinge.parent


def travelled(
    shape: PieceShape,
    hinge: Hinge,
    moving: frozenset[str],
    at: float,
    angles: Mapping[str, float] | None = None,
) -> tuple[str, Point] | None:
    """A point of the facet that turns about the hinge, straight out from the hinge at the
    part ``at`` of its length: the facet's name and the flat point. With the piece's fold
    ``angles`` the strips of a panel that will bend and is still flat are one facet."""
    facet = turning_facet(shape, hinge, moving)
    child = facet == hinge.child
    (x0, y0), (x1, y1) = hinge.start, hinge.end
    length = math.dist(hinge.start, hinge.end)
    # start -> end has the parent on its right as seen with y down, the child on its left
    side = (1.0 if child else -1.0) / length
    aside = ((y1 - y0) * side, (x0 - x1) * side)
    foot = (x0 + (x1 - x0) * at + aside[0] * 0.01, y0 + (y1 - y0) * at + aside[1] * 0.01)
    strips = _flat_strips(shape, facet, moving, angles or {})
    ring = _rim(shape, strips)
    reach = _first_stretch(foot, aside, ring)
    if reach < 0.5:
        return None
    out = (foot[0] + aside[0] * reach * _OUT, foot[1] + aside[1] * reach * _OUT)
    if len(strips) == 1:
        return facet, out
    papers = many(shape.facets[name].paper for name in strips)
    return strips[int(np.argmin(shapely.distance(papers, shapely.Point(out))))], out


def _rim(shape: PieceShape, strips: Sequence[str]) -> Array:
    """The outer ring (n, 2) of facets that lie flat together, across windows, too; kept with
    the shape, for every arrow of a panel asks for it."""
    own = tuple(strips)
    if own not in shape.rims:
        paper: BaseGeometry = shape.facets[strips[0]].paper
        if len(own) > 1:
            papers = many(shape.facets[name].paper for name in own)
            paper = shapely.union_all(shapely.buffer(papers, _JOIN_MM))
        shape.rims[own] = shapely.get_coordinates(shapely.get_exterior_ring(paper))
    return shape.rims[own]


def _flat_strips(
    shape: PieceShape, facet: str, moving: frozenset[str], angles: Mapping[str, float]
) -> list[str]:
    """The moving facets that lie in one plane with a facet and hang on it by bends."""
    found = [facet]
    for name in found if shape.smooth else ():
        for fold, beyond in shape.neighbours[name]:
            level = fold in shape.smooth and abs(angles.get(fold, 90.0)) < _FLAT_DEG
            if level and beyond in moving and beyond not in found:
                found.append(beyond)
    return found


def _first_stretch(foot: Point, way: Point, ring: Array) -> float:
    """How long a ray from ``foot`` runs in a ring before it leaves it for the first time."""
    x, y = ring[:, 0] - foot[0], ring[:, 1] - foot[1]
    beside, ahead = y * way[0] - x * way[1], x * way[0] + y * way[1]
    crossed = np.flatnonzero((beside[:-1] >= 0) != (beside[1:] >= 0))
    part = beside[crossed] / (beside[crossed] - beside[crossed + 1])
    far = ahead[crossed] + (ahead[crossed + 1] - ahead[crossed]) * part
    far = np.sort(far[far > 0])
    if len(far) % 2:
        return float(far[0])
    return float(far[1] - far[0]) if len(far) else 0.0


def fold_path(
    stage: Stage,
    motion: FoldMotion,
    shape: PieceShape,
    hinge: Hinge,
    flat: Point,
    samples: int = _SAMPLES,
) -> Array:
    """The arc in space, (samples + 1, 3), that a flat point of the moving side travels about
    one hinge, all other folds as they are drawn; of a fold by less than ``LEAST_DEG`` so far on,
    for a shorter one points out of the paper and not across the hinge."""
    facet = turning_facet(shape, hinge, frozenset(motion.moving))
    child = facet == hinge.child
    pose = stage.actor(motion.body, facet).pose
    start, end = next((s, e) for name, s, e in motion.folds if name == hinge.fold)
    # A valley fold turns the child right-handed about start -> end; see folding.hinge_turn.
    sense = 1.0 if shape.piece.fold(hinge.fold).bend == "valley" else -1.0
    travel = (end - start) * sense * (1.0 if child else -1.0)
    travel = math.copysign(max(abs(travel), LEAST_DEG), travel)
    origin, tip = pose.apply(lift(hinge.start)), pose.apply(lift(hinge.end))
    axis, point = sub(tip, origin), pose.apply(lift(flat))
    # Rodrigues' formula for all angles at once.
    along, arm = unit(axis), sub(point, origin)
    foot = scaled(along, dot(along, arm))
    angles = np.radians(travel) * np.arange(samples + 1)[:, None] / samples
    turned = np.cos(angles) * sub(arm, foot) + np.sin(angles) * cross(along, arm)
    return np.asarray(turned + add(origin, foot))
