"""Bridges: strips that hold an island, as long as it takes for all their width to be paper."""

from __future__ import annotations

import math
from collections.abc import Iterable
from functools import lru_cache

from msgspec import Struct

from publisher.geometry.booleans import region_difference, region_intersection
from publisher.geometry.measure import path_bounds
from publisher.geometry.path import Point, Region, polygon
from publisher.geometry.transform import rotated, rounded, translated

_NEAR_MM = 1e-4


class Strip(Struct, frozen=True):
    """``back_mm`` from the tip into the island, ``front_mm`` from the tip to the frame."""

    region: Region
    back_mm: float
    front_mm: float


def bridge_at(
    tip: Point, out: Point, width_mm: float, island: Region, window: Region
) -> Strip | None:
    """The strip through ``tip`` in direction ``out`` (a unit vector).

    At a star's tip the island has no width: the strip runs back until all its width is paper
    (w / (2 tan(a / 2)) for a tip of angle a with straight sides). None where the island is
    narrower than the strip all the way, or the strip meets no frame.
    """
    turn = math.degrees(math.atan2(out[1], out[0]))
    own, hole = (rounded(rotated(translated(r, -tip[0], -tip[1]), -turn)) for r in (island, window))
    found = _from_tip(width_mm, own, hole)
    if found is None:
        return None
    return Strip(translated(rotated(found.region, turn), *tip), found.back_mm, found.front_mm)


@lru_cache(maxsize=256)
def _from_tip(width_mm: float, own: Region, hole: Region) -> Strip | None:
    """The strip where the tip is the origin and the way out is to the right. Remembered: many
    windows hold the same island."""
    x0, y0, x1, y1 = path_bounds(hole.outer)
    far = math.hypot(x1 - x0, y1 - y0) + width_mm
    ahead = region_intersection(_across(0.0, far, width_mm), hole)
    front = max((b[2] for b in _from_here(ahead)), default=0.0)
    behind = region_difference(_across(-far, 0.0, width_mm), own)
    back = -min((b[0] for b in _from_here(behind)), default=0.0)
    if front >= far - _NEAR_MM or back >= far - _NEAR_MM:
        return None
    parts = region_intersection(_across(-back - _NEAR_MM, front, width_mm), hole)
    return Strip(parts[0], back, front) if parts else None


def _across(start: float, end: float, width: float) -> Region:
    half = width / 2.0
    return Region(polygon([(start, -half), (end, -half), (end, half), (start, half)]))


def _from_here(parts: Iterable[Region]) -> list[tuple[float, float, float, float]]:
    """Bounds of the parts that begin at the tip."""
    boxes = [path_bounds(p.outer) for p in parts]
    return [b for b in boxes if b[0] <= _NEAR_MM and b[2] >= -_NEAR_MM]
