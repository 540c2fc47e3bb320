"""Segments cut where they meet, the winding on both sides of each, and rings put together.

Every segment is divided at the exact points where it meets another one, so that each stretch
has one answer on its left and one on its right; chords decide nothing, and an arc's stretch
keeps its centre. Winding numbers come from the angle that a stretch spans as seen from a
point, an arc's angle being its chord's and a full turn where the point lies between the two.
"""

from __future__ import annotations

import itertools
import math
from bisect import bisect_left, bisect_right
from collections import defaultdict
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field
from typing import TypeVar

from publisher.geometry.canonical import canonical_region, ring_order
from publisher.geometry.measure import path_bounds, signed_area
from publisher.geometry.path import Arc, Line, Path, Point, Region, Segment
from publisher.geometry.segments import (
    SNAP_MM,
    crossings,
    is_on,
    point_at,
    reversed_segment,
    share_at,
    spanned,
    with_ends,
)

Result = TypeVar("Result")

TURN = 2.0 * math.pi


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


class _Nodes:
    """Points, those within a hair of each other being one."""

    def __init__(self, hair_mm: float) -> None:
        self.points: list[Point] = []
        self._hair_mm = hair_mm
        self._size = 100.0 * hair_mm
        self._cells: dict[tuple[int, int], list[int]] = defaultdict(list)

    def at(self, point: Point) -> int:
        x, y = point
        hair, size = self._hair_mm, self._size
        columns = {math.floor((x - hair) / size), math.floor((x + hair) / size)}
        rows = {math.floor((y - hair) / size), math.floor((y + hair) / size)}
        for i in columns:
            for j in rows:
                for index in self._cells.get((i, j), ()):
                    if math.dist(self.points[index], point) <= hair:
                        return index
        self.points.append(point)
        self._cells[math.floor(x / size), math.floor(y / size)].append(len(self.points) - 1)
        return len(self.points) - 1

    def welded(self, segment: Segment) -> Segment:
        start, end = self.at(segment.start), self.at(segment.end)
        return with_ends(segment, self.points[start], self.points[end])


@dataclass(slots=True)
class Stretch:
    """A part of a segment that meets others at its ends only.

    ``counts`` says for each source how often it runs here forwards less backwards, and
    ``along`` where in its source it stands (source, number of segment, share).
    """

    a: int
    b: int
    segment: Segment
    middle: Point
    counts: dict[int, int] = field(default_factory=dict)
    along: list[tuple[int, int, float, bool]] = field(default_factory=list)


class Arrangement:
    """All stretches of some sources; a source is a bundle of segments with a number."""

    def __init__(self, sources: Sequence[Iterable[Segment]], hair_mm: float = SNAP_MM) -> None:
        self._hair_mm = hair_mm
        self.nodes = _Nodes(hair_mm)
        self.stretches: list[Stretch] = []
        self._by_ends: dict[tuple[int, int], list[Stretch]] = defaultdict(list)
        self._boxes: dict[int, tuple[float, float, float, float]] = {}
        pieces: list[tuple[int, int, Segment]] = []
        for number, segments in enumerate(sources):
            for place, segment in enumerate(s for whole in segments for s in _halved(whole)):
                pieces.append((number, place, segment))
        self._divide(pieces)
        self._by_source: dict[int, list[Stretch]] = defaultdict(list)
        for stretch in self.stretches:
            for number, count in stretch.counts.items():
                if count:
                    self._by_source[number].append(stretch)
        for number, owned in self._by_source.items():
            self._boxes[number] = path_bounds(Path(tuple(s.segment for s in owned), False))

    def _divide(self, raw: list[tuple[int, int, Segment]]) -> None:
        hair = self._hair_mm
        pieces = [(number, place, self.nodes.welded(s)) for number, place, s in raw]
        pieces = [p for p in pieces if p[2].start != p[2].end]
        boxes = [path_bounds(Path((segment,), False)) for _, _, segment in pieces]
        order = sorted(range(len(pieces)), key=lambda i: boxes[i][0])
        live: list[int] = []
        for i in order:
            x_min, y_min, _, y_max = boxes[i]
            live = [j for j in live if boxes[j][2] >= x_min - hair]
            for j in live:
                if boxes[j][1] <= y_max + hair and boxes[j][3] >= y_min - hair:
                    for point in crossings(pieces[i][2], pieces[j][2], hair):
                        self.nodes.at(point)
            live.append(i)
        across = sorted((p[0], p[1], n) for n, p in enumerate(self.nodes.points))
        for (number, place, segment), box in zip(pieces, boxes, strict=True):
            self._lay(number, place, segment, _within(across, box, hair))

    def _lay(self, number: int, place: int, segment: Segment, near: Iterable[int]) -> None:
        points = self.nodes.points
        first, last = self.nodes.at(segment.start), self.nodes.at(segment.end)
        on = [
            n for n in near if n not in (first, last) and is_on(segment, points[n], self._hair_mm)
        ]
        inner = sorted((share_at(segment, points[n]), n) for n in on)
        steps = [(0.0, first), *(mark for mark in inner if 0.0 < mark[0] < 1.0), (1.0, last)]
        for (_, a), (share, b) in itertools.pairwise(steps):
            self._add(number, place, share, a, b, with_ends(segment, points[a], points[b]))

    def _add(self, number: int, place: int, share: float, a: int, b: int, part: Segment) -> None:
        middle = point_at(part, 0.5)
        ends = (min(a, b), max(a, b))
        for known in self._by_ends[ends]:
            if math.dist(known.middle, middle) <= 10.0 * self._hair_mm:
                break
        else:
            known = Stretch(a, b, part, middle)
            self._by_ends[ends].append(known)
            self.stretches.append(known)
        forwards = known.a == a
        known.counts[number] = known.counts.get(number, 0) + (1 if forwards else -1)
        known.along.append((number, place, share, forwards))

    def winding(self, stretch: Stretch, number: int) -> tuple[int, int]:
        """How often a source goes round the left and the right of a stretch, clockwise."""
        p = stretch.middle
        own = stretch.counts.get(number, 0)
        box = self._boxes.get(number)
        if box is None:
            return (0, 0)
        hair = self._hair_mm
        if not (box[0] - hair <= p[0] <= box[2] + hair and box[1] - hair <= p[1] <= box[3] + hair):
            return (0, 0)
        around = 0.0
        for other in self._by_source[number]:
            if other is not stretch:
                around += other.counts[number] * spanned(other.segment, p)
        left, right = _own_span(stretch.segment, p)
        return (round((around + own * left) / TURN), round((around + own * right) / TURN))


def _within(
    across: list[tuple[float, float, int]], box: tuple[float, float, float, float], hair: float
) -> list[int]:
    """The nodes, sorted by x, that lie in a box."""
    low = bisect_left(across, (box[0] - hair,))
    high = bisect_right(across, (box[2] + hair, math.inf))
    return [n for _, y, n in across[low:high] if box[1] - hair <= y <= box[3] + hair]


def _halved(segment: Segment) -> tuple[Segment, ...]:
    if isinstance(segment, Arc) and abs(segment.sweep_deg) > 180.0 - 1e-6:
        middle = point_at(segment, 0.5)
        return (
            with_ends(segment, segment.start, middle),
            with_ends(segment, middle, segment.end),
        )
    return (segment,)


def _own_span(segment: Segment, middle: Point) -> tuple[float, float]:
    """The angle a segment spans seen from just left and just right of its own middle."""
    if isinstance(segment, Line):
        return (-math.pi, math.pi)
    chord = spanned(Line(segment.start, segment.end), middle)
    return (chord, chord + TURN) if segment.clockwise else (chord - TURN, chord)


# ---------------------------------------------------------------- rings


@dataclass(frozen=True, slots=True)
class Half:
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
            if not members & edges and area > -signed_area(path) and _goes_round(outer, point):
                owned[place].append(path)
                break
    regions = [
        canonical_region(Region(outer, tuple(inner)))
        for (_, outer, _), inner in zip(outers, owned, strict=True)
    ]
    return tuple(sorted(regions, key=lambda r: ring_order(r.outer)))


def _goes_round(ring: Path, p: Point) -> bool:
    return round(sum(spanned(s, p) for s in ring.segments) / TURN) != 0


def bounded(
    arrangement: Arrangement, inside: Callable[[Stretch], tuple[bool, bool]]
) -> tuple[Region, ...]:
    """The regions whose border are the stretches with paper on one side only.

    ``inside`` says for a stretch whether there is paper on its left and on its right.
    """
    halves: list[Half] = []
    for index, stretch in enumerate(arrangement.stretches):
        left, right = inside(stretch)
        if right and not left:
            halves.append(forwards(index, stretch))
        elif left and not right:
            halves.append(backwards(index, stretch))
    return regions_from(halves)
