"""Paper as regions: the union of panels, what is left of a panel, where panels collide."""

from __future__ import annotations

import itertools
from collections.abc import Sequence

from msgspec import Struct

from publisher.geometry.booleans import region_difference, region_intersection, region_union
from publisher.geometry.measure import area, signed_area
from publisher.geometry.path import Path, Region, polygon
from publisher.geometry.segments import reversed_path
from publisher.model.types import Panel

_DUST_MM2 = 1e-4


def panel_region(panel: Panel) -> Region:
    """The whole panel, before anything was cut from it."""
    return Region(polygon(panel.ring))


def union_of(panels: Sequence[Panel]) -> tuple[Region, ...]:
    """The outline of all panels together; several regions where they do not hang together."""
    return region_union([panel_region(p) for p in panels])


def overlaps(panels: Sequence[Panel]) -> tuple[tuple[str, str, float], ...]:
    """Pairs of panels that would need the same paper, with the shared area in mm2."""
    found = []
    for a, b in itertools.combinations(panels, 2):
        if not _boxes_meet(a, b):
            continue
        shared = sum(area(r) for r in region_intersection(panel_region(a), panel_region(b)))
        if shared > _DUST_MM2:
            found.append((a.name, b.name, shared))
    return tuple(found)


def _boxes_meet(a: Panel, b: Panel) -> bool:
    ax0, ay0, ax1, ay1 = a.bounds
    bx0, by0, bx1, by1 = b.bounds
    return min(ax1, bx1) - max(ax0, bx0) > 1e-6 and min(ay1, by1) - max(ay0, by0) > 1e-6


def without(region: Region, rings: Sequence[Path]) -> tuple[Region, ...]:
    """The region less what the closed rings enclose."""
    cutters = [Region(ring) for ring in rings]
    return region_difference(region, *cutters) if cutters else (region,)


class CutOut(Struct, frozen=True):
    """What is left when rings are cut from paper. ``outside`` is the number of a ring that
    reaches beyond the paper or into another one; None where all lie in it."""

    left: tuple[Region, ...]
    outside: int | None


def cut_out(paper: Region, rings: Sequence[Path]) -> CutOut:
    """Cuts all rings at once; each must lie in the paper and in no other ring."""
    left = without(paper, rings)
    wanted = sum(abs(signed_area(ring)) for ring in rings)
    if abs(area(paper) - sum(area(r) for r in left) - wanted) <= _DUST_MM2 * len(rings):
        return CutOut(left, None)
    rest: tuple[Region, ...] = (paper,)
    for number, ring in enumerate(rings):
        if not any(holds(part, ring) for part in rest):
            return CutOut(left, number)
        rest = tuple(r for part in rest for r in without(part, [ring]))
    return CutOut(left, None)


def holds(region: Region, ring: Path) -> bool:
    """Whether the closed ring's inside is all paper."""
    outside = sum(area(r) for r in region_difference(Region(ring), region))
    return outside <= _DUST_MM2


def clockwise(ring: Path) -> Path:
    return ring if signed_area(ring) >= 0 else reversed_path(ring)
