"""Paper folded flat, and what its layers must obey: no paper through paper.

Folded flat every facet lies in one plane. For two facets that overlap one is on top. Where
paper is joined at a fold, other paper may not lie so that it would have to pass through it:

- a facet across a fold lies over or under both sides of it, not between them;
- of two folds along one line, on the same side, one lies within the other or beside it;
- a facet across a line that is not folded lies over or under both sides of it; so do two
  such lines that lie on each other;
- three facets over one spot have an order.

These conditions are those of J. Justin, "Towards a mathematical theory of origami" (1997),
and suffice (from memory).
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import TYPE_CHECKING

from msgspec import Struct

from publisher.geometry.flatten import flattened
from publisher.geometry.path import Point
from publisher.geometry.space import Pose, lift
from publisher.model.folding import facet_poses
from publisher.model.types import Piece

if TYPE_CHECKING:
    from shapely import LineString, Polygon

SHARED_MM2 = 0.01
SHARED_MM = 0.01
_FLAT_DEG = 1e-6
_CHORD_MM = 0.05

Pair = tuple[int, int]


class Rule(Struct, frozen=True):
    """What some pairs must obey together: ``pairs`` (low, high number), each +1 where the
    second facet is on top and -1 where the first is; ``allowed`` are the ways that are."""

    pairs: tuple[Pair, ...]
    allowed: tuple[tuple[int, ...], ...]


class FlatFold(Struct, frozen=True):
    """``names`` of the facets, ``front_up`` which of them show their front, ``pairs`` that
    overlap, ``rules`` that their order obeys, and ``bends``: what the folds say, pair by pair."""

    names: tuple[str, ...]
    front_up: tuple[bool, ...]
    pairs: tuple[Pair, ...]
    rules: tuple[Rule, ...]
    bends: Mapping[Pair, int]


class _Crease(Struct, frozen=True):
    """A stretch of a fold as it lies: which facets, whether folded, and on which side of the
    line the first (and the second) lies: +1 left of start -> end."""

    first: int
    second: int
    folded: bool
    start: Point
    end: Point
    sides: tuple[int, int]


def flat_fold(piece: Piece, angles_deg: Mapping[str, float]) -> FlatFold | None:
    """The piece folded flat; None where an angle is neither 0 nor half a turn."""
    if any(min(abs(a), abs(abs(a) - 180.0)) > _FLAT_DEG for a in angles_deg.values()):
        return None
    poses = facet_poses(piece, angles_deg)
    number = {facet.name: i for i, facet in enumerate(piece.facets)}
    shapes = [_laid(piece, f.name, poses[f.name]) for f in piece.facets]
    up = tuple(poses[f.name].normal[2] > 0 for f in piece.facets)
    creases, bends = [], {}
    for hinge in piece.hinges:
        a, b = number[hinge.parent], number[hinge.child]
        angle = angles_deg.get(hinge.fold, 0.0)
        folded = abs(angle) > 90.0
        line = _ends(hinge.start, poses[hinge.parent]), _ends(hinge.end, poses[hinge.parent])
        sides = (_side(line, shapes[a]), _side(line, shapes[b]))
        creases.append(_Crease(a, b, folded, *line, sides))
        if folded:
            # A mountain fold lays the child on the parent's back, a valley fold on its front.
            mountain = (piece.fold(hinge.fold).bend == "mountain") == (angle > 0)
            on_top = -1 if mountain == up[a] else 1
            bends[_pair(a, b)] = on_top if a < b else -on_top
    pairs = tuple(
        (i, j)
        for i, j in itertools.combinations(range(len(shapes)), 2)
        if _shared(shapes[i], shapes[j]) > SHARED_MM2
    )
    rules = (*_spots(shapes, pairs), *_folds(shapes, pairs, creases), *_lines(pairs, creases))
    names = tuple(f.name for f in piece.facets)
    return FlatFold(names, up, pairs, rules, bends)


def _pair(a: int, b: int) -> Pair:
    return (a, b) if a < b else (b, a)


def _ends(point: Point, pose: Pose) -> Point:
    x, y, _ = pose.apply(lift(point))
    return (x, y)


def _laid(piece: Piece, facet: str, pose: Pose) -> Polygon:
    from shapely import Polygon

    region = piece.facet(facet).region
    rings = [
        [_ends(p, pose) for p in flattened(ring, _CHORD_MM)]
        for ring in (region.outer, *region.holes)
    ]
    return Polygon(rings[0], rings[1:])


def _shared(a: Polygon, b: Polygon) -> float:
    return float(a.intersection(b).area)


def _side(line: tuple[Point, Point], shape: Polygon) -> int:
    """On which side of a line on its border a facet lies, asked close to the line's middle."""
    from shapely import Point as Spot

    (x, y), (u, v) = line
    size = math.dist(*line)
    nx, ny = -(v - y) / size, (u - x) / size
    mx, my = (x + u) / 2.0, (y + v) / 2.0
    for step in (1e-3, 1e-2, 0.1):
        for side in (1, -1):
            if shape.contains(Spot(mx + side * step * nx, my + side * step * ny)):
                return side
    middle = shape.representative_point()
    return 1 if (middle.x - x) * nx + (middle.y - y) * ny > 0 else -1


# ---------------------------------------------------------------- rules


def _ways(count: int) -> Iterator[tuple[int, ...]]:
    return itertools.product((1, -1), repeat=count)


def _spots(shapes: Sequence[Polygon], pairs: Sequence[Pair]) -> Iterator[Rule]:
    """Three facets over one spot do not run in a circle."""
    known = set(pairs)
    for i, j in pairs:
        both = None
        for k in range(j + 1, len(shapes)):
            if (i, k) in known and (j, k) in known:
                both = both or shapes[i].intersection(shapes[j])
                if float(both.intersection(shapes[k]).area) > SHARED_MM2:
                    # i over j over k over i, and the other way round, are out.
                    allowed = tuple(s for s in _ways(3) if s not in ((1, -1, 1), (-1, 1, -1)))
                    yield Rule(((i, j), (i, k), (j, k)), allowed)


def _folds(
    shapes: Sequence[Polygon], pairs: Sequence[Pair], creases: Sequence[_Crease]
) -> Iterator[Rule]:
    """A facet across a fold, or across a line between two facets that is not folded, is on one
    side of both."""
    from shapely import LineString

    known = set(pairs)
    for crease in creases:
        line = LineString((crease.start, crease.end))
        a, b = crease.first, crease.second
        for k, shape in enumerate(shapes):
            wanted = (_pair(a, k), _pair(b, k))
            if k in (a, b) or not known.issuperset(wanted):
                continue
            if _inner_length(shape, line) > SHARED_MM:
                same = (a < k) == (b < k)
                yield Rule(wanted, ((1, 1), (-1, -1)) if same else ((1, -1), (-1, 1)))


def _inner_length(shape: Polygon, line: LineString) -> float:
    """How much of a line runs through paper, its border not counted."""
    inner = shape.buffer(-1e-4)
    return float(inner.intersection(line).length)


def _lines(pairs: Sequence[Pair], creases: Sequence[_Crease]) -> Iterator[Rule]:
    """Two folds, or two lines not folded, that lie on each other."""
    known = set(pairs)
    for one, other in itertools.combinations(creases, 2):
        if (
            one.folded != other.folded
            or len({one.first, one.second, other.first, other.second}) < 4
        ):
            continue
        if _along(one, other) <= SHARED_MM:
            continue
        same_way = _same_way(one, other)
        sides = other.sides if same_way else (-other.sides[0], -other.sides[1])
        if one.folded:
            if one.sides[0] == sides[0]:
                yield from _nested(known, one, other)
        else:
            c, d = (other.first, other.second)
            if sides[0] != one.sides[0]:
                c, d = d, c
            wanted = (_pair(one.first, c), _pair(one.second, d))
            if known.issuperset(wanted):
                same = (one.first < c) == (one.second < d)
                yield Rule(wanted, ((1, 1), (-1, -1)) if same else ((1, -1), (-1, 1)))


def _nested(known: set[Pair], one: _Crease, other: _Crease) -> Iterator[Rule]:
    a, b, c, d = one.first, one.second, other.first, other.second
    wanted = tuple(_pair(x, y) for x, y in itertools.combinations((a, b, c, d), 2))
    if not known.issuperset(wanted):
        return
    allowed = []
    for order in itertools.permutations((a, b, c, d)):
        place = {facet: i for i, facet in enumerate(order)}
        inside = [place[c], place[d]]
        low, high = sorted((place[a], place[b]))
        # One of the other fold's papers between these two, and one not, is paper through paper.
        if sum(low < p < high for p in inside) != 1:
            allowed.append(tuple(1 if place[x] < place[y] else -1 for x, y in wanted))
    yield Rule(wanted, tuple(dict.fromkeys(allowed)))


def _same_way(one: _Crease, other: _Crease) -> bool:
    (x, y), (u, v) = one.start, one.end
    (p, q), (r, s) = other.start, other.end
    return (u - x) * (r - p) + (v - y) * (s - q) > 0


def _along(one: _Crease, other: _Crease) -> float:
    """How much of two stretches lies on each other, 0 where their lines differ."""
    (x, y), (u, v) = one.start, one.end
    size = math.dist(one.start, one.end)
    ux, uy = (u - x) / size, (v - y) / size
    spans = []
    for p, q in (other.start, other.end):
        if abs(ux * (q - y) - uy * (p - x)) > 1e-6:
            return 0.0
        spans.append(ux * (p - x) + uy * (q - y))
    return min(size, max(spans)) - max(0.0, min(spans))


def named(fold: FlatFold, pairs: Iterable[Pair]) -> tuple[str, ...]:
    """The facets of these pairs, each once."""
    return tuple(dict.fromkeys(fold.names[i] for pair in pairs for i in pair))
