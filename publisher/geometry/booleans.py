"""Union, difference, intersection and division of regions, arcs kept exact."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from functools import lru_cache
from typing import TYPE_CHECKING, TypeAlias

from publisher.geometry.arrangement import Arrangement, Box
from publisher.geometry.canonical import canonical_path, holes_in_order, oriented
from publisher.geometry.measure import bounds_meet, outline_bounds, path_bounds, winding
from publisher.geometry.path import Path, Region, Segment
from publisher.geometry.rings import (
    Half,
    backwards,
    bounded,
    forwards,
    regions_from,
    settled,
    without_bridges,
)
from publisher.geometry.segments import point_at, reversed_segment

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

NEAR_MM = 0.01
"""Far more than any hair within which points are one."""


def _about(path: Path) -> Box:
    x_min, y_min, x_max, y_max = path_bounds(path)
    return (x_min - NEAR_MM, y_min - NEAR_MM, x_max + NEAR_MM, y_max + NEAR_MM)


def region_segments(region: Region) -> Iterator[Segment]:
    """All segments, with paper on the right of each."""
    yield from oriented(region.outer, clockwise=True).segments
    for hole in region.holes:
        yield from oriented(hole, clockwise=False).segments


Rule: TypeAlias = Callable[["NDArray[np.bool_]"], "NDArray[np.bool_]"]
"""Takes which bundles (rows) have paper at some places (columns), says where there is paper."""


def _in_all(inside: NDArray[np.bool_]) -> NDArray[np.bool_]:
    import numpy as np  # nobody who only imports this room should wait for it

    found: NDArray[np.bool_] = np.logical_and.reduce(inside)
    return found


def _in_first_only(inside: NDArray[np.bool_]) -> NDArray[np.bool_]:
    found: NDArray[np.bool_] = inside[0] & ~inside[1]
    return found


@lru_cache(maxsize=1024)
def _combined(
    bundles: tuple[tuple[Region, ...], ...], rule: Rule, focus: Box | None = None
) -> tuple[Region, ...]:
    """Remembered: a design that is tried with another size is mostly the same again."""
    return settled(lambda hair_mm: _combined_within(hair_mm, bundles, rule, focus))


def _combined_within(
    hair_mm: float, bundles: tuple[tuple[Region, ...], ...], rule: Rule, focus: Box | None
) -> tuple[Region, ...]:
    import numpy as np

    # The regions of a bundle wind alike: together they go round a point where one of them does.
    sources = [[s for region in regions for s in region_segments(region)] for regions in bundles]
    arrangement = Arrangement(sources, hair_mm, focus)
    inside = np.array([arrangement.windings(n) for n in range(len(sources))]) > 0
    return bounded(arrangement, rule(inside[:, 0]), rule(inside[:, 1]))


def region_union(regions: Iterable[Region]) -> tuple[Region, ...]:
    """Paper that is in any of the regions, from top to bottom."""
    return _combined((tuple(regions),), _in_all)


def region_intersection(a: Region, b: Region) -> tuple[Region, ...]:
    """Paper that is in both."""
    first, second = _about(a.outer), _about(b.outer)
    # All that the two share, and all places where they meet, lie where their boxes overlap.
    focus = (
        max(first[0], second[0]),
        max(first[1], second[1]),
        min(first[2], second[2]),
        min(first[3], second[3]),
    )
    if focus[0] > focus[2] or focus[1] > focus[3]:
        return ()
    return _combined(((a,), (b,)), _in_all, focus)


def region_difference(region: Region, *cutters: Region) -> tuple[Region, ...]:
    """What is left of the region when the cutters are taken away."""
    boxes = [_about(cutter.outer) for cutter in cutters]
    whole, far = _without_far_holes(region, boxes)
    left = _combined(((whole,), cutters), _in_first_only, _about(region.outer))
    return _with_holes(left, far) if far else left


def _without_far_holes(region: Region, boxes: Sequence[Box]) -> tuple[Region, list[Path]]:
    """The region with those holes that come near a box, and the others: they stay as they are,
    and a screen may have hundreds."""
    near: list[Path] = []
    far: list[Path] = []
    for hole in region.holes:
        bounds = outline_bounds(hole)
        (near if any(bounds_meet(bounds, box) for box in boxes) else far).append(hole)
    return Region(region.outer, tuple(near)), far


def _with_holes(regions: tuple[Region, ...], holes: Sequence[Path]) -> tuple[Region, ...]:
    """The regions with holes that lie whole in one of them."""
    owned: list[list[Path]] = [[] for _ in regions]
    for hole in holes:
        owner = 0
        if len(regions) > 1:
            point = point_at(hole.segments[0], 0.5)
            owner = next(n for n, r in enumerate(regions) if winding(point, r.outer))
        owned[owner].append(hole)
    return tuple(
        Region(region.outer, holes_in_order((*region.holes, *more)))
        for region, more in zip(regions, owned, strict=True)
    )


def split_region(region: Region, cuts: Iterable[Path]) -> tuple[Region, ...]:
    """The parts into which cuts from edge to edge (or into each other) divide the region.

    A cut that ends inside, or that only leads to a closed cut, divides nothing there.
    """
    return _split(region, tuple(s for path in cuts for s in path.segments))


@lru_cache(maxsize=256)
def _split(region: Region, segments: tuple[Segment, ...]) -> tuple[Region, ...]:
    boxes = [_about(Path((s,), False)) for s in segments]
    whole, far = _without_far_holes(region, boxes)
    parts = settled(lambda hair_mm: _split_within(hair_mm, whole, segments))
    return _with_holes(parts, far) if far else parts


def _split_within(
    hair_mm: float, region: Region, segments: Sequence[Segment]
) -> tuple[Region, ...]:
    arrangement = Arrangement([region_segments(region), segments], hair_mm)
    halves: list[Half] = []
    for index, (left, right) in enumerate(arrangement.windings(0).T.tolist()):
        stretch = arrangement.stretches[index]
        if left > 0 and right > 0 and 1 in stretch.counts:
            halves += [forwards(index, stretch), backwards(index, stretch)]
        elif right > 0 >= left:
            halves.append(forwards(index, stretch))
        elif left > 0 >= right:
            halves.append(backwards(index, stretch))
    return regions_from(without_bridges(halves))


def clip_path(path: Path, region: Region) -> tuple[Path, ...]:
    """The parts of a path that run through the paper, in the path's order and direction.

    Stretches along the region's edge are not inside.
    """
    arrangement = Arrangement([region_segments(region), path.segments], focus=_about(path))
    found: list[tuple[int, float, Segment, bool]] = []
    windings = arrangement.windings(0).T.tolist()
    for stretch, (left, right) in zip(arrangement.stretches, windings, strict=True):
        on_path = [mark for mark in stretch.along if mark[0] == 1]
        kept = left > 0 and right > 0 and 0 not in stretch.counts
        for _, place, share, ahead in on_path:
            part = stretch.segment if ahead else reversed_segment(stretch.segment)
            found.append((place, share, part, kept))
    found.sort(key=lambda f: (f[0], f[1]))
    runs: list[list[Segment]] = []
    going = False
    for _, _, part, kept in found:
        if kept and going:
            runs[-1].append(part)
        elif kept:
            runs.append([part])
        going = kept
    if path.closed and found and found[0][3] and found[-1][3]:
        if len(runs) == 1:
            return (canonical_path(Path(tuple(runs[0]), closed=True)),)
        runs[0] = runs.pop() + runs[0]
    return tuple(canonical_path(Path(tuple(run), closed=False)) for run in runs)
