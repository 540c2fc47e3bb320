"""Rings put together from stretches that have paper on one side only."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Callable, Iterable, Sequence
from typing import TypeVar

from msgspec import Struct

from publisher.geometry.arrangement import TURN, Arrangement, Stretch
from publisher.geometry.canonical import canonical_region, ring_order
from publisher.geometry.measure import signed_area, winding
from publisher.geometry.path import Line, Path, Point, Region, Segment
from publisher.geometry.segments import SNAP_MM, point_at, reversed_segment

Result = TypeVar("Result")


class OpenRingError(ValueError):
    """Stretches do not close to rings: points about a hair apart were taken both ways."""


def settled(build: Callable[[float], Result]) -> Result:
    """What ``build`` gives for a hair of 1e-6 mm, or for the next width at which rings close.

    Points that lie just a hair apart may be one for one pair of segments and two for another;
    another width of the hair takes them one way throughout.
    """
    for hair_mm in (SNAP_MM, 5.0 * SNAP_MM, 0.2 * SNAP_MM, 25.0 * SNAP_MM):
        try:
            return build(hair_mm)
        except OpenRingError:
            continue
    return build(100.0 * SNAP_MM)


class Half(Struct, frozen=True):
    """A stretch walked one way, with paper on its right."""

    stretch: int
    a: int
    b: int
    segment: Segment


def forwards(index: int, stretch: Stretch) -> Half:
    return Half(index, stretch.a, stretch.b, stretch.segment)


def backwards(index: int, stretch: Stretch) -> Half:
    return Half(index, stretch.b, stretch.a, reversed_segment(stretch.segment))


def _heading(segment: Segment, reach: float) -> float:
    """The direction from the segment's start to its point at distance ``reach``, radians."""
    (x, y) = segment.start
    if isinstance(segment, Line):
        return math.atan2(segment.end[1] - y, segment.end[0] - x)
    start = math.radians(segment.start_deg)
    # The chord of length reach spans the angle 2 asin(reach / 2r) at the centre.
    half = math.asin(min(1.0, reach / (2.0 * segment.radius_mm)))
    sign = 1.0 if segment.clockwise else -1.0
    return start + sign * (math.pi / 2.0 + half)


def cycles(halves: Sequence[Half]) -> list[list[Half]]:
    """Closed walks that keep to the right at every node, so that paper never pinches."""
    reach: dict[int, float] = {}
    for half in halves:
        chord = math.dist(half.segment.start, half.segment.end) / 2.0
        for node in (half.a, half.b):
            reach[node] = min(reach.get(node, chord), chord)
    leaving: dict[int, list[tuple[float, int]]] = defaultdict(list)
    for number, half in enumerate(halves):
        leaving[half.a].append((_heading(half.segment, reach[half.a]), number))
    used = [False] * len(halves)
    walks: list[list[Half]] = []
    for first in range(len(halves)):
        if used[first]:
            continue
        walk: list[Half] = []
        number = first
        while not used[number]:
            used[number] = True
            half = halves[number]
            walk.append(half)
            back = _heading(reversed_segment(half.segment), reach[half.b])
            free = [
                (_turn_left(back, heading, halves[n].stretch == half.stretch), n)
                for heading, n in leaving[half.b]
                if n == first or not used[n]
            ]
            if not free:
                raise OpenRingError(f"a ring does not close near {half.segment.end}")
            number = min(free)[1]
        walks.append(walk)
    return walks


def _turn_left(back: float, heading: float, same: bool) -> float:
    turn = (back - heading) % TURN
    return TURN if same or turn == 0.0 else turn


def without_bridges(halves: Sequence[Half]) -> list[Half]:
    """Drop stretches with the same paper on both sides, until there are none."""
    kept = list(halves)
    while True:
        bridges: set[int] = set()
        for walk in cycles(kept):
            seen: set[int] = set()
            for half in walk:
                if half.stretch in seen:
                    bridges.add(half.stretch)
                seen.add(half.stretch)
        if not bridges:
            return kept
        kept = [h for h in kept if h.stretch not in bridges]


def _simple(walk: list[Half]) -> list[list[Half]]:
    """A closed walk as rings that pass no node twice."""
    rings: list[list[Half]] = []
    stack: list[Half] = []
    leaves: dict[int, int] = {}
    for half in walk:
        leaves[half.a] = len(stack)
        stack.append(half)
        at = leaves.get(half.b)
        if at is not None:
            rings.append(stack[at:])
            for gone in stack[at:]:
                leaves.pop(gone.a, None)
            del stack[at:]
    return rings


def regions_from(halves: Sequence[Half]) -> tuple[Region, ...]:
    """Regions with paper on the right of every half, holes put where they belong."""
    outers: list[tuple[float, Path, frozenset[int]]] = []
    holes: list[tuple[Path, frozenset[int], Point]] = []
    for walk in cycles(halves):
        for ring in _simple(walk):
            path = Path(tuple(h.segment for h in ring), closed=True)
            area = signed_area(path)
            if abs(area) <= SNAP_MM * path.length_mm:
                continue
            members = frozenset(h.stretch for h in ring)
            if area > 0.0:
                outers.append((area, path, members))
            else:
                holes.append((path, members, point_at(ring[0].segment, 0.5)))
    outers.sort(key=lambda o: o[0])
    owned: list[list[Path]] = [[] for _ in outers]
    for path, members, point in holes:
        for place, (area, outer, edges) in enumerate(outers):
            if not members & edges and area > -signed_area(path) and winding(point, outer) != 0:
                owned[place].append(path)
                break
    regions = [
        canonical_region(Region(outer, tuple(inner)))
        for (_, outer, _), inner in zip(outers, owned, strict=True)
    ]
    return tuple(sorted(regions, key=lambda r: ring_order(r.outer)))


def bounded(
    arrangement: Arrangement, left: Iterable[bool], right: Iterable[bool]
) -> tuple[Region, ...]:
    """The regions whose border are the stretches with paper on one side only: whether there is
    paper on the left and on the right of each."""
    halves: list[Half] = []
    for stretch, on_left, on_right in zip(arrangement.stretches, left, right, strict=True):
        if on_right and not on_left:
            halves.append(forwards(stretch.index, stretch))
        elif on_left and not on_right:
            halves.append(backwards(stretch.index, stretch))
    return regions_from(halves)
