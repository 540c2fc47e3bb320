"""The shortest way between two flat shapes in space."""

from __future__ import annotations

import itertools

import shapely
from shapely.geometry.base import BaseGeometry

from publisher.checks.places import Shape, away_mm, parallel, seen_from
from publisher.geometry.space import Pose, Vector, lift
from publisher.model.types import Pattern

STACKED_CALIPERS = 4
"""Papers on each other are never in quite one plane: so many thicknesses do not count."""


def stacked_mm(pattern: Pattern) -> float:
    """How far over each other parallel papers may be and still count as lying on each other."""
    return STACKED_CALIPERS * max(p.stock.caliper_mm for p in pattern.pieces) + 0.1


def apart_mm(first: Shape, second: Shape, stacked_mm: float = 0.0) -> float:
    """0 where they touch. Parallel shapes no further than ``stacked_mm`` over each other count
    as lying in one plane: papers that lie on each other are never in quite the same one."""
    if parallel(first, second) and abs(away_mm(first.pose, second)) <= stacked_mm + 1e-6:
        return float(first.flat.distance(seen_from(first.pose, second)))
    return min(_edges(first, second), _faces(first, second), _faces(second, first))


def _rings(flat: BaseGeometry) -> list[BaseGeometry]:
    lines = flat.boundary if flat.geom_type in ("Polygon", "MultiPolygon") else flat
    return list(shapely.get_parts(lines))


def _stretches(shape: Shape) -> list[tuple[Vector, Vector]]:
    found: list[tuple[Vector, Vector]] = []
    for ring in _rings(shape.flat):
        points = [shape.pose.apply(lift((x, y))) for x, y in shapely.get_coordinates(ring)]
        found += list(itertools.pairwise(points))
    return found


def _edges(first: Shape, second: Shape) -> float:
    """Between their rims: every stretch of one against every stretch of the other.

    The nearest points of two segments lie inside both, or one of them is an end (Ericson, Real-
    Time Collision Detection, 5.1.9; from memory).
    """
    import numpy as np

    ours, theirs = _stretches(first), _stretches(second)
    if not ours or not theirs:
        return float("inf")
    a = np.array([s for s, _ in ours])[:, None, :]
    u = np.array([e for _, e in ours])[:, None, :] - a
    b = np.array([s for s, _ in theirs])[None, :, :]
    v = np.array([e for _, e in theirs])[None, :, :] - b
    w = a - b
    uu, vv, uv = (u * u).sum(-1), (v * v).sum(-1), (u * v).sum(-1)
    uw, vw = (u * w).sum(-1), (v * w).sum(-1)
    uu, vv = np.maximum(uu, 1e-12), np.maximum(vv, 1e-12)
    scale = uu * vv - uv * uv
    best = float("inf")
    inner = np.where(scale > 1e-9, (uv * vw - vv * uw) / np.where(scale > 1e-9, scale, 1), 0)
    zero = np.zeros_like(inner)
    for s in (inner, zero, zero + 1, (uv - uw) / uu, -uw / uu):
        s = np.clip(s, 0, 1)
        t = np.clip((s * uv + vw) / vv, 0, 1)
        gap = w + s[..., None] * u - t[..., None] * v
        best = min(best, float(np.sqrt((gap * gap).sum(-1)).min()))
    return best


def _faces(first: Shape, second: Shape) -> float:
    """From corners of one to the inside of the other, and where an edge goes through it."""
    if second.flat.geom_type not in ("Polygon", "MultiPolygon"):
        return float("inf")
    into: Pose = second.pose.inverse().after(first.pose)
    best = float("inf")
    for ring in _rings(first.flat):
        points = [into.apply(lift((x, y))) for x, y in shapely.get_coordinates(ring)]
        for p in points:
            if abs(p[2]) < best and second.flat.covers(shapely.Point(p[0], -p[1])):
                best = abs(p[2])
        for p, q in itertools.pairwise(points):
            if p[2] * q[2] < 0:
                k = p[2] / (p[2] - q[2])
                at = shapely.Point(p[0] + k * (q[0] - p[0]), -(p[1] + k * (q[1] - p[1])))
                if second.flat.covers(at):
                    return 0.0
    return best
