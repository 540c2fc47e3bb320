"""Where paper passes through paper: how deep two flat facets in space cross.

Facets count as without thickness. Those that only touch, share a fold, or lie flat on each
other do not cross.
"""

from __future__ import annotations

from collections.abc import Sequence

from msgspec import Struct

from publisher.geometry.space import Vector, cross, dot, norm, scaled, sub

_PARALLEL = 1e-7
_TOUCH_MM = 1e-6

Ring = Sequence[Vector]


class Sheet(Struct, frozen=True):
    """A flat facet in space: its rings (outer one first, then holes; mm), the normal of its
    front face, and corners of a box round it."""

    rings: tuple[tuple[Vector, ...], ...]
    normal: Vector
    least: Vector
    greatest: Vector


def sheet(rings: Sequence[Ring], normal: Vector) -> Sheet:
    xs, ys, zs = zip(*rings[0], strict=True)
    least, greatest = (min(xs), min(ys), min(zs)), (max(xs), max(ys), max(zs))
    return Sheet(tuple(tuple(r) for r in rings), normal, least, greatest)


def crossing_depth(a: Sheet, b: Sheet) -> float:
    """How far one facet would have to move to be clear of the other, in mm, 0 where they do
    not cross: along the line in which they cross, or through the other's plane, whichever is
    less."""
    for i in range(3):
        if a.least[i] >= b.greatest[i] - _TOUCH_MM or b.least[i] >= a.greatest[i] - _TOUCH_MM:
            return 0.0
    line = cross(a.normal, b.normal)
    size = norm(line)
    if size < _PARALLEL:
        return 0.0
    line = scaled(line, 1.0 / size)
    over_b, over_a = _heights(a, b), _heights(b, a)
    through = min(
        max(over_b[0]), -min(over_b[0]), max(over_a[0]), -min(over_a[0])
    )  # of the outer rings
    if through <= _TOUCH_MM:
        return 0.0
    along = _shared(_stretches(a, over_b, line), _stretches(b, over_a, line))
    return min(through, along) if along > _TOUCH_MM else 0.0


def _heights(of: Sheet, over: Sheet) -> list[list[float]]:
    """Of every corner over the other facet's plane, ring by ring."""
    level = dot(over.normal, over.rings[0][0])
    return [[dot(over.normal, p) - level for p in ring] for ring in of.rings]


def _stretches(
    of: Sheet, heights: Sequence[Sequence[float]], line: Vector
) -> list[tuple[float, float]]:
    """The stretches of the other plane's line that run through the paper, as lengths along
    it: it enters at every odd border that it meets and leaves at every even one."""
    met: list[float] = []
    for ring, high in zip(of.rings, heights, strict=True):
        for i, p in enumerate(ring):
            u, v = high[i - 1], high[i]
            if (u > 0.0) != (v > 0.0):
                q = ring[i - 1]
                share = u / (u - v)
                x, y, z = sub(p, q)
                met.append(dot(line, (q[0] + share * x, q[1] + share * y, q[2] + share * z)))
    met.sort()
    return list(zip(met[::2], met[1::2], strict=False))


def _shared(ours: Sequence[tuple[float, float]], theirs: Sequence[tuple[float, float]]) -> float:
    """The longest stretch that both have."""
    return max(
        (min(a[1], b[1]) - max(a[0], b[0]) for a in ours for b in theirs),
        default=0.0,
    )
