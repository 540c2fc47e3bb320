"""What is already on the paper, and whether something more finds a free place there.

All coordinates are mm on paper, in the piece's frame (its top left at the origin).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Literal, TypeAlias

import numpy as np
import shapely
from msgspec import Struct, field
from shapely.geometry.base import BaseGeometry

from publisher.drawing.flat import crowd
from publisher.drawing.flat.crowd import Rows, Told
from publisher.geometry.path import Point

Box: TypeAlias = tuple[float, float, float, float]
Span: TypeAlias = tuple[Point, Point]
Axis: TypeAlias = Literal["x", "y"]

CLEAR_MM = 0.7  # between words and anything else
APART_MM = 1.9  # between words and words under them
_BESIDE_MM = 0.8
_PULL_MM = 0.2  # ends of lines may touch


def grown(box: Box, by_mm: float) -> Box:
    return (box[0] - by_mm, box[1] - by_mm, box[2] + by_mm, box[3] + by_mm)


def overlap(a: Box, b: Box) -> bool:
    return a[0] < b[2] and b[0] < a[2] and a[1] < b[3] and b[1] < a[3]


def pulled(span: Span, by_mm: float = _PULL_MM) -> Span:
    """The span a little shorter at both ends, so that touching is not crossing."""
    (x1, y1), (x2, y2) = span
    length = math.hypot(x2 - x1, y2 - y1)
    if length <= 2 * by_mm:
        middle = ((x1 + x2) / 2, (y1 + y2) / 2)
        return (middle, middle)
    dx, dy = (x2 - x1) * by_mm / length, (y2 - y1) * by_mm / length
    return ((x1 + dx, y1 + dy), (x2 - dx, y2 - dy))


def spans_meet(a: Span, b: Span) -> bool:
    """Whether two straight spans have a point in common."""
    (p, q), (r, s) = a, b
    if max(p[0], q[0]) < min(r[0], s[0]) or max(r[0], s[0]) < min(p[0], q[0]):
        return False
    if max(p[1], q[1]) < min(r[1], s[1]) or max(r[1], s[1]) < min(p[1], q[1]):
        return False

    def side(o: Point, e: Point, at: Point) -> float:
        return (e[0] - o[0]) * (at[1] - o[1]) - (e[1] - o[1]) * (at[0] - o[0])

    return side(p, q, r) * side(p, q, s) <= 0 and side(r, s, p) * side(r, s, q) <= 0


def span_meets_box(span: Span, box: Box) -> bool:
    """Whether a straight span has a point in the box (clipping by Liang and Barsky)."""
    (x1, y1), (x2, y2) = span
    enter, leave = 0.0, 1.0
    for start, step, low, high in (
        (x1, x2 - x1, box[0], box[2]),
        (y1, y2 - y1, box[1], box[3]),
    ):
        if step == 0.0:
            if not low <= start <= high:
                return False
            continue
        first, last = sorted(((low - start) / step, (high - start) / step))
        enter, leave = max(enter, first), min(leave, last)
    return enter <= leave


class Board(Struct):
    """A mutable workplace inside one drawing's layout.

    ``paper`` is the piece with its openings cut, ``covered`` the same and whatever else is
    drawn as an area. ``drawn`` are lines of the piece itself; ``borders`` are those of glue
    zones, which a measure may cross but words may not; ``dimensions``, ``extensions``,
    ``leaders`` and the ``ticks`` at the ends of dimensions came later. ``bounds`` are those of
    what is covered, ``reaches`` what ``edge_along`` has found.
    """

    paper: BaseGeometry
    covered: BaseGeometry
    drawn: BaseGeometry
    borders: BaseGeometry = field(default_factory=shapely.MultiLineString)
    labels: list[Box] = field(default_factory=list)
    dimensions: list[Span] = field(default_factory=list)
    extensions: list[Span] = field(default_factory=list)
    leaders: list[Span] = field(default_factory=list)
    ticks: list[Box] = field(default_factory=list)
    bounds: Box = (0.0, 0.0, 0.0, 0.0)
    reaches: dict[tuple[Axis, float], tuple[float, float] | None] = field(default_factory=dict)

    def __post_init__(self) -> None:
        x0, y0, x1, y1 = self.covered.bounds
        self.bounds = (x0, y0, x1, y1)
        for geometry in (self.paper, self.covered, self.drawn, self.borders):
            shapely.prepare(geometry)

    # -- questions

    def label_is_free(
        self, box: Box, among: Sequence[Span] = (), clear_mm: float = CLEAR_MM
    ) -> bool:
        """Whether words fit: clear of lines, other words, and not half on paper.

        ``among`` are lines that would come with the words.
        """
        room = grown(box, clear_mm)
        # words over words want more, or they read as two lines of one text
        apart = (room[0], box[1] - APART_MM, room[2], box[3] + APART_MM)
        if any(overlap(apart, other) for other in self.labels):
            return False
        if any(overlap(room, other) for other in self.ticks):
            return False
        spans = (*self.dimensions, *self.extensions, *self.leaders, *among)
        if any(span_meets_box(span, room) for span in spans):
            return False
        area = shapely.box(*room)
        if self.drawn.intersects(area) or self.borders.intersects(area):
            return False
        return not self.covered.intersects(area) or bool(self.paper.contains(area))

    def dimensions_free(self, spans: Rows) -> Told:
        """Which dimension lines cross nothing (they may end on a line)."""
        lines = crowd.pulled(spans, _PULL_MM)
        met = crowd.spans_in_boxes(lines, crowd.grown(crowd.rows(self.labels), CLEAR_MM / 2))
        others = crowd.rows([*self.dimensions, *self.extensions, *self.leaders])
        met |= crowd.spans_cross(lines, others)
        (left,) = np.nonzero(~met)
        drawn = shapely.linestrings(lines[left].reshape(-1, 2, 2))
        met[left] = shapely.intersects(self.drawn, drawn)
        return ~met

    def tick_is_free(self, tick: Box) -> bool:
        return not any(overlap(grown(tick, CLEAR_MM / 2), box) for box in self.labels)

    def free_leaders(self, leaders: Rows, boxes: Rows, may_cross: bool) -> int | None:
        """The first leader, each with the words at its end, that crosses nothing all the way
        to them, and whose words fit; it keeps off its foot. With ``may_cross`` lines of the
        piece do not count."""
        words = crowd.rows(self.labels)
        spans = crowd.rows([*self.dimensions, *self.extensions, *self.leaders])
        rooms = crowd.grown(boxes, CLEAR_MM)
        apart = np.column_stack(
            (rooms[:, 0], boxes[:, 1] - APART_MM, rooms[:, 2], boxes[:, 3] + APART_MM)
        )
        taken = crowd.spans_in_boxes(leaders, crowd.grown(words, CLEAR_MM / 2))
        taken |= crowd.spans_cross(leaders, spans) | crowd.boxes_overlap(apart, words)
        taken |= crowd.boxes_overlap(rooms, crowd.rows(self.ticks))
        taken |= crowd.boxes_with_spans(rooms, spans) | crowd.in_box(leaders, rooms)
        (left,) = np.nonzero(~taken)
        if not may_cross:
            lines = shapely.linestrings(leaders[left].reshape(-1, 2, 2))
            left = left[~shapely.intersects(self.drawn, lines)]
        areas = shapely.box(*rooms[left].T)
        free = ~shapely.intersects(self.drawn, areas) & ~shapely.intersects(self.borders, areas)
        free &= ~shapely.intersects(self.covered, areas) | shapely.contains(self.paper, areas)
        return int(left[free][0]) if free.any() else None

    def extension_is_free(self, span: Span) -> bool:
        """Whether an extension line crosses no dimension, leader or words.

        It may cross another extension line; it is then broken there.
        """
        line = pulled(span)
        if self._meets_label(line):
            return False
        return not any(spans_meet(line, pulled(s)) for s in (*self.dimensions, *self.leaders))

    def meets_drawn(self, span: Span) -> bool:
        return bool(self.drawn.intersects(shapely.LineString(span)))

    def is_on_drawn(self, at: Point) -> bool:
        """Whether a line of the piece passes through the point."""
        point = shapely.Point(at)
        return bool(self.drawn.dwithin(point, 0.02) or self.borders.dwithin(point, 0.02))

    def crossings(self, span: Span) -> list[Point]:
        """Where a line would cross the piece's lines or those of measures at an angle."""
        (x1, y1), (x2, y2) = span
        drawn = shapely.get_parts(shapely.intersection(self.drawn, shapely.LineString(span)))
        points = shapely.get_coordinates(drawn[shapely.get_type_id(drawn) == 0]).tolist()
        found: list[Point] = [(x, y) for x, y in points]
        crossed = (pulled(s) for s in (*self.dimensions, *self.leaders))
        for (ox1, oy1), (ox2, oy2) in (*self.extensions, *crossed):
            turn = (ox2 - ox1) * (y2 - y1) - (oy2 - oy1) * (x2 - x1)
            if turn == 0.0:
                continue
            along = ((x1 - ox1) * (y2 - y1) - (y1 - oy1) * (x2 - x1)) / turn
            mine = ((x1 - ox1) * (oy2 - oy1) - (y1 - oy1) * (ox2 - ox1)) / turn
            if 0.0 <= along <= 1.0 and 0.0 <= mine <= 1.0:
                found.append((ox1 + (ox2 - ox1) * along, oy1 + (oy2 - oy1) * along))
        return found

    def _meets_label(self, line: Span) -> bool:
        return any(span_meets_box(line, grown(box, CLEAR_MM / 2)) for box in self.labels)

    # -- reach of the paper

    def edge_along(self, axis: Axis, at: float, sign: int) -> float | None:
        """The paper's farthest point on the line ``axis`` = ``at``, towards ``sign``.

        Paper close beside the line counts too, so that an extension line never runs along an
        edge that is all but parallel to it. Returns the other coordinate, or None where the
        line misses the paper.
        """
        if (axis, at) not in self.reaches:
            self.reaches[axis, at] = self._reach(axis, at)
        reach = self.reaches[axis, at]
        return None if reach is None else reach[1 if sign > 0 else 0]

    def _reach(self, axis: Axis, at: float) -> tuple[float, float] | None:
        x0, y0, x1, y1 = self.bounds
        if axis == "x":
            strip = shapely.box(at - _BESIDE_MM, y0 - 1, at + _BESIDE_MM, y1 + 1)
        else:
            strip = shapely.box(x0 - 1, at - _BESIDE_MM, x1 + 1, at + _BESIDE_MM)
        cut = self.paper.intersection(strip)
        if cut.is_empty:
            return None
        left, top, right, bottom = cut.bounds
        return (top, bottom) if axis == "x" else (left, right)
