"""Fewer sheets than this cannot do, however the pieces are laid."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import combinations, product
from typing import TypeAlias

import shapely
from shapely.geometry import Polygon, box

from publisher.geometry.path import Point
from publisher.layout.kinds import FLAT_MM, Kind, Ring, boxes, extent, turned

SLACK_MM = 0.01
LEVELS = 7
CORES = 6
"""Rectangles that stand for a piece: more of them hardly tighten the bound."""

Rectangle: TypeAlias = tuple[float, float, float, float]
"""x_min, y_min, x_max, y_max."""
Cores: TypeAlias = tuple[Rectangle, tuple[Rectangle, ...]]
"""The box of a piece and rectangles of its paper."""
BRANCHES = 20_000
"""After so many the largest set found stands: a bound all the same."""


def load(kinds: Sequence[Kind], width_mm: float, height_mm: float, gap_mm: float) -> float:
    """How many sheets the paper would fill if none were wasted.

    Shapes that lie a gap apart still lie apart when each is grown by half of it; so does the
    sheet's usable part. Holes count as free.
    """
    # Less what flattening added at most; round corners keep inside the true ones.
    half = max(0.0, gap_mm / 2.0 - FLAT_MM)
    shapes = [Polygon(kind.outer, kind.holes) for kind in kinds]
    grown = shapely.area(shapely.buffer(shapes, half, quad_segs=4))
    paper = sum(float(a) * kind.copies for a, kind in zip(grown, kinds, strict=True))
    return paper / ((width_mm + gap_mm) * (height_mm + gap_mm))


def alone(kinds: Sequence[Kind], width_mm: float, height_mm: float, gap_mm: float) -> int:
    """The number of copies no two of which fit one sheet together: the largest there is.

    Each needs a sheet of its own.
    """
    names = [number for number, kind in enumerate(kinds) for _ in range(kind.copies)]
    pairs = _Pairs(kinds, width_mm, height_mm, gap_mm)
    keeps_off = [set[int]() for _ in names]
    for i, j in combinations(range(len(names)), 2):
        if not pairs.share(names[i], names[j]):
            keeps_off[i].add(j)
            keeps_off[j].add(i)
    return _largest_clique(keeps_off)


class _Pairs:
    """Answers whether two kinds may share a sheet, each question worked out once."""

    def __init__(self, kinds: Sequence[Kind], width: float, height: float, gap: float) -> None:
        self.kinds = kinds
        self.width, self.height, self.gap = width, height, gap
        self.boxes = [
            {
                turn: (w, h)
                for turn, (w, h) in boxes(kind).items()
                if w <= width + SLACK_MM and h <= height + SLACK_MM
            }
            for kind in kinds
        ]
        self.known: dict[tuple[int, int], bool] = {}
        self.cores: dict[tuple[int, float], Cores] = {}

    def share(self, a: int, b: int) -> bool:
        key = (min(a, b), max(a, b))
        if key not in self.known:
            self.known[key] = self._share(*key)
        return self.known[key]

    def _share(self, a: int, b: int) -> bool:
        for (wa, ha), (wb, hb) in product(self.boxes[a].values(), self.boxes[b].values()):
            if wa + wb + self.gap <= self.width or ha + hb + self.gap <= self.height:
                return True
        return any(
            _nested(self._cores(a, ta), self._cores(b, tb), self.width, self.height, self.gap)
            for ta, tb in product(self.boxes[a], self.boxes[b])
        )

    def _cores(self, kind: int, turn: float) -> Cores:
        key = (kind, turn)
        if key not in self.cores:
            rings = (self.kinds[kind].outer, *self.kinds[kind].holes)
            if turn and turn % 90.0 == 0.0:
                whole, parts = self._cores(kind, 0.0)
                self.cores[key] = (
                    _turned_box(whole, turn),
                    tuple(_turned_box(part, turn) for part in parts),
                )
            else:
                rings = tuple(turned(ring, turn) for ring in rings)
                self.cores[key] = (extent(rings[0]), cores(rings))
        return self.cores[key]


def _turned_box(rectangle: Rectangle, turn: float) -> Rectangle:
    x_min, y_min, x_max, y_max = rectangle
    return extent(turned(((x_min, y_min), (x_max, y_max)), turn))


def _nested(a: Cores, b: Cores, width: float, height: float, gap: float) -> bool:
    """Whether a shift of b against a is left that both boxes allow and their cores too."""
    (ax0, ay0, ax1, ay1), cores_a = a
    (bx0, by0, bx1, by1), cores_b = b
    # a's origin may lie in [-ax0, width - ax1], b's alike: the difference of the two.
    left, top = ax1 - bx0 - width - SLACK_MM, ay1 - by0 - height - SLACK_MM
    right, bottom = width - bx1 + ax0 + SLACK_MM, height - by1 + ay0 + SLACK_MM
    # Rectangles nearer than the gap: apart by it in one direction or by its share in both.
    near = gap / math.sqrt(2.0)
    taken = [
        (p[0] - q[2] - x, p[1] - q[3] - y, p[2] - q[0] + x, p[3] - q[1] + y)
        for p in cores_a
        for q in cores_b
        for x, y in ((gap, 0.0), (0.0, gap), (near, near))
    ]
    if any(t[0] <= left and t[1] <= top and t[2] >= right and t[3] >= bottom for t in taken):
        return False
    touching = [t for t in taken if t[0] < right and t[2] > left and t[1] < bottom and t[3] > top]
    covered = shapely.union_all([box(*t) for t in touching])
    return not covered.covers(box(left, top, right, bottom))


def cores(rings: Sequence[Ring]) -> tuple[Rectangle, ...]:
    """Rectangles that are paper all over, those that reach farthest."""
    edges = [e for ring in rings for e in zip(ring, ring[1:] + ring[:1], strict=True)]
    heights = _spread(sorted({round(p[1], 3) for ring in rings for p in ring}))
    found: list[Rectangle] = []
    for top, bottom in combinations(heights, 2):
        found += [
            (left + FLAT_MM, top + FLAT_MM, right - FLAT_MM, bottom - FLAT_MM)
            for left, right in _spans(edges, top, bottom)
        ]
    found = [r for r in found if r[0] < r[2] and r[1] < r[3]]
    return tuple(sorted(found, key=lambda r: (r[0] - r[2]) * (r[3] - r[1]))[:CORES])


def _spread(values: list[float]) -> list[float]:
    """At most ``LEVELS`` of the values, the outermost among them."""
    if len(values) <= LEVELS:
        return values
    step = (len(values) - 1) / (LEVELS - 1)
    return [values[round(i * step)] for i in range(LEVELS)]


def _spans(edges: Sequence[tuple[Point, Point]], top: float, bottom: float) -> list[Point]:
    """(left, right) of the stretches that no edge enters between two heights and that lie
    inside, by the even-odd rule along the middle."""
    middle = (top + bottom) / 2.0
    blocked: list[Point] = []
    crossings: list[float] = []
    for (x1, y1), (x2, y2) in edges:
        if y1 == y2:
            if top < y1 < bottom:
                blocked.append((min(x1, x2), max(x1, x2)))
            continue
        if max(y1, y2) <= top or min(y1, y2) >= bottom:
            continue
        slope = (x2 - x1) / (y2 - y1)
        ends = [x1 + slope * (min(max(y, top), bottom) - y1) for y in (y1, y2)]
        blocked.append((min(ends), max(ends)))
        if (y1 <= middle) != (y2 <= middle):
            crossings.append(x1 + slope * (middle - y1))
    blocked.sort()
    spans = []
    reached = -math.inf
    for left, right in blocked:
        if left > reached > -math.inf:
            centre = (left + reached) / 2.0
            if sum(x < centre for x in crossings) % 2:
                spans.append((reached, left))
        reached = max(reached, right)
    return spans


def _largest_clique(joined: Sequence[set[int]]) -> int:
    """Branch and bound, the candidates of most neighbours first."""
    best = 1 if joined else 0
    branches = 0

    def grow(size: int, candidates: list[int]) -> None:
        nonlocal best, branches
        best = max(best, size)
        for i, node in enumerate(candidates):
            branches += 1
            if size + len(candidates) - i <= best or branches > BRANCHES:
                return
            grow(size + 1, [c for c in candidates[i + 1 :] if c in joined[node]])

    grow(0, sorted((n for n in range(len(joined)) if joined[n]), key=lambda n: -len(joined[n])))
    return best


def fewest(kinds: Sequence[Kind], width_mm: float, height_mm: float, gap_mm: float) -> int:
    """A count of sheets that no layout can go below: the larger of two bounds."""
    by_area = math.ceil(load(kinds, width_mm, height_mm, gap_mm) - 1e-9)
    return max(1, by_area, alone(kinds, width_mm, height_mm, gap_mm))
