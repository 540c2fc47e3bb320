"""Segments cut where they meet, and the winding on both sides of each stretch.

Every segment is divided at the exact points where it meets another one, so that each stretch
has one answer on its left and one on its right; chords decide nothing, and an arc's stretch
keeps its centre. Winding numbers come from the angle that a stretch spans as seen from a
point, an arc's angle being its chord's and a full turn where the point lies between the two.
"""

from __future__ import annotations

import itertools
import math
from collections import defaultdict
from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING, TypeAlias

from msgspec import Struct, field

from publisher.geometry.measure import bounds_meet, segment_bounds
from publisher.geometry.meetings import meetings, points_on
from publisher.geometry.path import Arc, Line, Point, Segment
from publisher.geometry.segments import (
    SNAP_MM,
    point_at,
    share_at,
    spanned,
    with_ends,
)

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

TURN = 2.0 * math.pi
FloatArray: TypeAlias = "NDArray[np.float64]"
IntArray: TypeAlias = "NDArray[np.int64]"
Box: TypeAlias = tuple[float, float, float, float]
"""x_min, y_min, x_max, y_max."""


class _Nodes:
    """Points, those within a hair of each other being one."""

    def __init__(self, hair_mm: float) -> None:
        self.points: list[Point] = []
        self._hair_mm = hair_mm
        self._size = 100.0 * hair_mm
        self._cells: dict[tuple[int, int], list[int]] = defaultdict(list)
        self._known: dict[Point, int] = {}

    def at(self, point: Point) -> int:
        known = self._known.get(point)
        if known is None:
            known = self._known[point] = self._found(point)
        return known

    def _found(self, point: Point) -> int:
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


class Stretch(Struct):
    """A part of a segment that meets others at its ends only.

    ``counts`` says for each source how often it runs here forwards less backwards, and
    ``along`` where in its source it stands (source, number of segment, share).
    """

    index: int
    a: int
    b: int
    segment: Segment
    middle: Point
    counts: dict[int, int] = field(default_factory=dict)
    along: list[tuple[int, int, float, bool]] = field(default_factory=list)


class Arrangement:
    """All stretches of some sources; a source is a bundle of segments with a number.

    With a ``focus``, a box, only what reaches into it becomes stretches. The rest counts for
    the winding alone: no two sources may meet outside it.
    """

    def __init__(
        self,
        sources: Sequence[Iterable[Segment]],
        hair_mm: float = SNAP_MM,
        focus: Box | None = None,
    ) -> None:
        self._hair_mm = hair_mm
        self._aside: dict[int, list[Segment]] = defaultdict(list)
        self.nodes = _Nodes(hair_mm)
        self.stretches: list[Stretch] = []
        self._by_ends: dict[tuple[int, int], list[Stretch]] = defaultdict(list)
        pieces: list[tuple[int, int, Segment]] = []
        for number, segments in enumerate(sources):
            for place, segment in enumerate(s for whole in segments for s in _halved(whole)):
                if focus is None or bounds_meet(segment_bounds(segment), focus):
                    pieces.append((number, place, segment))
                else:
                    self._aside[number].append(segment)
        self._own_spans: FloatArray | None = None
        self._divide(pieces)
        self._by_source: dict[int, list[Stretch]] = defaultdict(list)
        for stretch in self.stretches:
            for number, count in stretch.counts.items():
                if count:
                    self._by_source[number].append(stretch)

    def _divide(self, raw: list[tuple[int, int, Segment]]) -> None:
        hair = self._hair_mm
        pieces = [(number, place, self.nodes.welded(s)) for number, place, s in raw]
        pieces = [p for p in pieces if p[2].start != p[2].end]
        segments = [segment for _, _, segment in pieces]
        for point in meetings(segments, hair):
            self.nodes.at(point)
        lying = points_on(segments, self.nodes.points, hair)
        for (number, place, segment), on in zip(pieces, lying, strict=True):
            self._lay(number, place, segment, on)

    def _lay(self, number: int, place: int, segment: Segment, on: Iterable[int]) -> None:
        points = self.nodes.points
        first, last = self.nodes.at(segment.start), self.nodes.at(segment.end)
        inner = sorted((share_at(segment, points[n]), n) for n in on if n not in (first, last))
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
            known = Stretch(len(self.stretches), a, b, part, middle)
            self._by_ends[ends].append(known)
            self.stretches.append(known)
        forwards = known.a == a
        known.counts[number] = known.counts.get(number, 0) + (1 if forwards else -1)
        known.along.append((number, place, share, forwards))

    def _around(self, number: int) -> FloatArray:
        """The angle that a source spans round the middle of each stretch, radians, without
        what runs through that middle."""
        import numpy as np  # nobody who only imports this room should wait for it

        owned = self._by_source[number]
        aside = self._aside[number]
        counts = np.array([*(s.counts[number] for s in owned), *(1 for _ in aside)], float)
        segments = [*(s.segment for s in owned), *aside]
        angles = _spans(segments, [s.middle for s in self.stretches])
        angles[[s.index for s in owned], range(len(owned))] = 0.0
        around: FloatArray = angles @ counts
        return around

    def windings(self, number: int) -> IntArray:
        """How often a source goes round the left (row 0) and the right (row 1) of each stretch,
        clockwise."""
        import numpy as np

        if self._own_spans is None:
            spans = [_own_span(s.segment, s.middle) for s in self.stretches]
            self._own_spans = np.array(spans).reshape(-1, 2).T
        own = np.array([s.counts.get(number, 0) for s in self.stretches])
        turns = (self._around(number) + own * self._own_spans) / TURN
        return np.rint(turns).astype(np.int64)


def _spans(segments: Sequence[Segment], points: Sequence[Point]) -> FloatArray:
    """What ``spanned`` gives for every point (rows) and every segment (columns)."""
    import numpy as np

    ends = np.array([(*s.start, *s.end) for s in segments]).reshape(-1, 4)
    p = np.array(points).reshape(-1, 1, 2)
    ax, ay = ends[:, 0] - p[:, :, 0], ends[:, 1] - p[:, :, 1]
    bx, by = ends[:, 2] - p[:, :, 0], ends[:, 3] - p[:, :, 1]
    cross = ax * by - ay * bx
    angles: FloatArray = np.arctan2(cross, ax * bx + ay * by)
    for column, s in enumerate(segments):
        if isinstance(s, Arc):
            away = np.hypot(p[:, 0, 0] - s.centre[0], p[:, 0, 1] - s.centre[1])
            between = (np.signbit(cross[:, column]) == s.clockwise) & (away < s.radius_mm)
            angles[between, column] += TURN if s.clockwise else -TURN
    return angles


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
