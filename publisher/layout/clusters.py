"""Small pieces laid into the holes of large ones before the sheets are filled."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence

from msgspec import Struct
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry

from publisher.geometry.transform import rotated_point
from publisher.layout.free import Free, is_convex
from publisher.layout.kinds import Kind, Put, boxes, extent

TRIALS = 3


class Cluster(Struct, frozen=True):
    """One copy of kind ``base`` and what lies in its holes, all in the base's coordinates."""

    base: int
    inside: tuple[Put, ...] = ()

    @property
    def members(self) -> tuple[int, ...]:
        return (self.base, *(put.kind for put in self.inside))


def clusters(kinds: Sequence[Kind], free: Free, fill: bool = True) -> tuple[Cluster, ...]:
    """Every copy of every kind in one cluster. With ``fill`` the largest holes are filled
    first, each with the largest piece that goes in, as long as one does.

    What lies in a hole turns with its cluster, so it goes in only where both have a turn that
    allows it.
    """
    left = Counter({number: kind.copies for number, kind in enumerate(kinds)})
    by_size = sorted(left, key=lambda n: (-_spread(kinds[n]), n))
    made: list[Cluster] = []
    for base in by_size:
        while left[base] > 0:
            left[base] -= 1
            inside = _filling(base, kinds, left, by_size, free) if fill else ()
            left.subtract(put.kind for put in inside)
            made.append(Cluster(base, inside))
    return tuple(made)


def _spread(kind: Kind) -> float:
    """How much room its box takes."""
    width, height = boxes(kind)[kind.turns[0]]
    return width * height


def _filling(
    base: int, kinds: Sequence[Kind], left: Counter[int], by_size: Sequence[int], free: Free
) -> tuple[Put, ...]:
    inside: list[Put] = []
    still = Counter(left)
    allowed = set(kinds[base].turns)
    for hole in sorted(kinds[base].holes, key=lambda h: _box_area(extent(h)), reverse=True):
        window: BaseGeometry = Polygon(hole).convex_hull
        around: tuple[Put, ...] = (Put(base, 0.0, 0.0, 0.0),)
        clear = free.hole(hole)
        if is_convex(clear):
            # Then nothing in it comes near the paper round it.
            window, around = clear, ()
        kept = _fullest(kinds, still, by_size, free, window, around, allowed)
        still.subtract(put.kind for put in kept)
        inside += kept
        for put in kept:
            allowed &= _allowed(kinds[put.kind], put.turn_deg, allowed)
    return tuple(inside)


def _fullest(
    kinds: Sequence[Kind],
    left: Counter[int],
    by_size: Sequence[int],
    free: Free,
    window: BaseGeometry,
    around: tuple[Put, ...],
    turns: set[float],
) -> list[Put]:
    """The largest first, or without the largest that fits, or without the two largest:
    several small pieces may fill a hole better."""
    best: list[Put] = []
    passed: list[int] = []
    for _ in range(TRIALS):
        still, allowed = Counter(left), set(turns)
        inside: list[Put] = []
        for kind in by_size:
            while kind not in passed and still[kind] > 0:
                ways = sorted({(t - r) % 360.0 for t in kinds[kind].turns for r in allowed})
                put = free.place(kind, window, (*around, *inside), ways)
                if put is None:
                    break
                still[kind] -= 1
                inside.append(put)
                allowed &= _allowed(kinds[kind], put.turn_deg, allowed)
        if not inside:
            break
        passed.append(inside[0].kind)
        if _paper(kinds, inside) > _paper(kinds, best):
            best = inside
    return best


def _paper(kinds: Sequence[Kind], puts: Sequence[Put]) -> float:
    return sum(kinds[put.kind].area for put in puts)


def _box_area(box: tuple[float, float, float, float]) -> float:
    return (box[2] - box[0]) * (box[3] - box[1])


def _allowed(kind: Kind, turn: float, turns: Iterable[float]) -> set[float]:
    """Those turns of a cluster that a member may take which lies in it turned by ``turn``."""
    return {t for t in turns if (t + turn) % 360.0 in kind.turns}


def as_kind(cluster: Cluster, kinds: Sequence[Kind], copies: int = 1) -> Kind:
    """The cluster as one shape without holes, in the turns that all of it allows."""
    base = kinds[cluster.base]
    turns = set(base.turns)
    for put in cluster.inside:
        turns = _allowed(kinds[put.kind], put.turn_deg, turns)
    return Kind(base.outer, (), tuple(t for t in base.turns if t in turns), copies)


def spread_out(cluster: Cluster, put: Put) -> list[Put]:
    """Where the members come to lie when the cluster's shape is laid so."""
    found = [Put(cluster.base, put.turn_deg, put.x_mm, put.y_mm)]
    for inner in cluster.inside:
        x, y = rotated_point((inner.x_mm, inner.y_mm), put.turn_deg)
        turn = (inner.turn_deg + put.turn_deg) % 360.0
        found.append(Put(inner.kind, turn, put.x_mm + x, put.y_mm + y))
    return found
