"""Which facets lie flat on each other, and in which order.

Facets lie on each other when their planes are parallel, no further apart than their calipers
together, and they share more than ``SHARED_MM2``. The order is a directed graph, lower to
upper as seen from above (for upright planes: as seen from the front, then from the right). What is
known goes in first; what the motion says follows, and gives way where both would run in a
circle, so that no paper passes through paper.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Mapping, Sequence
from typing import TYPE_CHECKING, TypeAlias

from msgspec import Struct, field

from publisher.assembly.kit import Kit, Shape, landed, polygon_of, shape_round
from publisher.assembly.types import Body, FacetId, State
from publisher.geometry.path import Point
from publisher.geometry.space import Pose, Vector, dot, scaled

if TYPE_CHECKING:
    from shapely import Polygon
    from shapely.geometry.base import BaseGeometry

SHARED_MM2 = 1.0
_PARALLEL = 2e-4  # difference of unit normals, about 0.01 degrees
_LEVEL_MM = 1e-6
_TOUCH_MM = 1e-4  # neighbours that share an edge touch; they do not lie on each other

Above: TypeAlias = tuple[FacetId, FacetId, int]


class Leaf(Struct, frozen=True):
    """One facet in space. ``up`` is its normal or the opposite, whichever looks up;
    ``height_mm`` is its plane's along ``up``; ``faces_up`` is +1 when its front face does.
    ``least``/``greatest`` are corners of a box round it in the world."""

    id: FacetId
    piece: str
    pose: Pose
    shape: Shape
    caliper_mm: float
    up: Vector
    height_mm: float
    faces_up: int
    least: Vector
    greatest: Vector


class Contact(Struct, frozen=True):
    """Two facets that lie flat on each other. ``point`` is a spot of what they share, in the
    flat coordinates of ``first``; ``area_mm2`` is how much they share."""

    first: FacetId
    second: FacetId
    point: Point
    area_mm2: float


def looks_up(normal: Vector) -> int:
    """+1 when a direction counts as up (towards the viewer where it lies level), else -1."""
    for value in (normal[2], -normal[1], normal[0]):
        if abs(value) > _PARALLEL:
            return 1 if value > 0 else -1
    return 1


def leaf(kit: Kit, body: Body, facet: str, pose: Pose) -> Leaf:
    normal = pose.normal
    faces_up = looks_up(normal)
    up = scaled(normal, float(faces_up))
    shape = kit.shapes[body.piece, facet]
    xs, ys, zs = zip(*landed(pose, shape.box), strict=True)
    return Leaf(
        id=(body.id, facet),
        piece=body.piece,
        pose=pose,
        shape=shape,
        caliper_mm=kit.pieces[body.piece].stock.caliper_mm,
        up=up,
        height_mm=dot(up, pose.shift),
        faces_up=faces_up,
        least=(min(xs), min(ys), min(zs)),
        greatest=(max(xs), max(ys), max(zs)),
    )


def same_pose(a: Pose, b: Pose, angle: float = 1e-9, mm: float = 1e-7) -> bool:
    """Whether two poses agree; the bounds are for the rotation's entries and the shift."""
    rows = zip(a.rotation, b.rotation, strict=True)
    turned = any(abs(p - q) > angle for r, s in rows for p, q in zip(r, s, strict=True))
    return not turned and math.dist(a.shift, b.shift) <= mm


def side_between(state: State, first: FacetId, second: FacetId) -> int | None:
    """The side of the first on which the second lies; None where they do not lie on each
    other."""
    for lower, upper, side in state.above:
        if (lower, upper) == (first, second):
            return side
        if (lower, upper) == (second, first):
            poses = [state.body(body).facet_pose(facet) for body, facet in (lower, upper)]
            return -side if same_way(*poses) else side
    return None


def in_frame(shape: Shape, into: Pose) -> Shape:
    """The shape of another facet as it lies in the flat coordinates of a first one."""

    def ring(points: Iterable[Point]) -> tuple[Point, ...]:
        return tuple((p[0], -p[1]) for p in landed(into, points))

    return shape_round(ring(shape.outer), tuple(ring(hole) for hole in shape.holes))


def _near(papers: Sequence[Leaf]) -> list[tuple[Leaf, Leaf]]:
    """Pairs of parallel facets, at one height to their calipers, whose boxes share an area:
    facets that lie flat on each other share length along two axes of the world at least."""
    import numpy as np  # nobody who only imports this room should wait for it

    if len(papers) < 2:
        return []
    rows = [(*p.up, p.height_mm, p.caliper_mm, *p.least, *p.greatest) for p in papers]
    table = np.array(rows).T
    ups, height, caliper, least, greatest = table[:3], table[3], table[4], table[5:8], table[8:]
    level = np.abs(height[:, None] - height) <= caliper[:, None] + caliper + _LEVEL_MM
    first, second = np.nonzero(np.triu(level, 1))
    thick = caliper[first] + caliper[second] + _LEVEL_MM
    lengths = np.minimum(greatest[:, first], greatest[:, second])
    lengths -= np.maximum(least[:, first], least[:, second])
    near = (np.abs(ups[:, first] - ups[:, second]) < _PARALLEL).all(axis=0)
    near &= (lengths >= -thick).all(axis=0) & ((lengths > _TOUCH_MM).sum(axis=0) >= 2)
    pairs = zip(first[near].tolist(), second[near].tolist(), strict=True)
    return [(papers[a], papers[b]) for a, b in pairs]


class _Seen(Struct, frozen=True):
    first: Leaf
    second: Leaf
    into: Pose
    contact: Contact | None


class Papers(Struct):
    """Finds contacts, and remembers those of pairs that did not move against each other."""

    kit: Kit
    polygons: dict[tuple[str, str], Polygon] = field(default_factory=dict)
    found: dict[tuple[FacetId, FacetId], _Seen] = field(default_factory=dict)
    leaved: dict[str, tuple[Body, list[Leaf]]] = field(default_factory=dict)

    def leaves(self, bodies: Iterable[Body]) -> list[Leaf]:
        """Every facet of the bodies that are placed."""
        result: list[Leaf] = []
        for body in bodies:
            if not body.placed:
                continue
            known = self.leaved.get(body.id)
            if known is None or known[0] is not body:
                made = [leaf(self.kit, body, name, pose) for name, pose in body.facets]
                known = self.leaved[body.id] = (body, made)
            result += known[1]
        return result

    def polygon(self, piece: str, facet: str) -> Polygon:
        key = (piece, facet)
        if key not in self.polygons:
            self.polygons[key] = polygon_of(self.kit.shapes[key])
        return self.polygons[key]

    def contacts(self, papers: Sequence[Leaf]) -> list[Contact]:
        """Every pair that lies flat on each other, in the order of the facets."""
        contacts = (self._contact(a, b) for a, b in _near(papers))
        return [contact for contact in contacts if contact is not None]

    def _contact(self, a: Leaf, b: Leaf) -> Contact | None:
        known = self.found.get((a.id, b.id))
        if known is not None and known.first is a and known.second is b:
            return known.contact
        into = a.pose.inverse().after(b.pose)
        if known is not None and same_pose(known.into, into):
            contact = known.contact
        else:
            contact = self._measured(a, b, into)
        self.found[a.id, b.id] = _Seen(a, b, into, contact)
        return contact

    def _measured(self, a: Leaf, b: Leaf, into: Pose) -> Contact | None:
        there = polygon_of(in_frame(b.shape, into))
        shared = _both(self.polygon(a.piece, a.id[1]), there)
        area = float(shared.area)
        if area <= SHARED_MM2:
            return None
        spot = shared.representative_point()
        return Contact(a.id, b.id, (float(spot.x), float(spot.y)), area)


def _both(one: Polygon, other: Polygon) -> BaseGeometry:
    """What two areas share. Paper whose lines run over each other is an author's mistake, and
    found as such: here it may not stop the build."""
    from shapely import GEOSException, make_valid

    try:
        return one.intersection(other)
    except GEOSException:
        return make_valid(one).intersection(make_valid(other))


Verdict = Callable[[Contact], int | None]
"""On which side of ``contact.first`` the second lies: +1 front, -1 back, None unsaid."""


def ordered(
    papers: Sequence[Leaf], contacts: Sequence[Contact], known: Verdict, motion: Verdict
) -> tuple[tuple[Above, ...], tuple[Contact, ...]]:
    """The order of all pairs, and those for which nothing could be said or what is known runs
    in a circle."""
    by_id = {paper.id: paper for paper in papers}
    graph: dict[FacetId, set[FacetId]] = {}
    result: list[Above] = []
    undecided: list[Contact] = []

    def put(contact: Contact, side: int | None, firm: bool) -> None:
        first = by_id[contact.first]
        under, over = contact.first, contact.second
        if side is not None and side * first.faces_up < 0:
            under, over = over, under
        if leads(graph, over, under):
            if firm:
                undecided.append(contact)
            under, over = over, under
        elif side is None and not leads(graph, under, over):
            undecided.append(contact)
            return
        graph.setdefault(under, set()).add(over)
        result.append((under, over, by_id[under].faces_up))

    later = []
    for contact in contacts:
        side = known(contact)
        if side is None:
            later.append((contact, motion(contact)))
        else:
            put(contact, side, firm=True)
    for contact, side in sorted(later, key=lambda pair: pair[1] is None):
        put(contact, side, firm=False)
    return tuple(sorted(result)), tuple(undecided)


def leads(graph: Mapping[FacetId, set[FacetId]], start: FacetId, goal: FacetId) -> bool:
    """Whether the order already says that ``goal`` lies over ``start``."""
    waiting, seen = [start], {start}
    while waiting:
        for above in graph.get(waiting.pop(), ()):
            if above == goal:
                return True
            if above not in seen:
                seen.add(above)
                waiting.append(above)
    return False


def same_way(a: Pose, b: Pose) -> bool:
    """Whether the front faces of two parallel facets look the same way."""
    return dot(a.normal, b.normal) > 0


def both_ways(state: State) -> dict[tuple[FacetId, FacetId], int]:
    """(a, b) and (b, a) of every pair in order -> the side of the first on which the second
    lies."""
    sides: dict[tuple[FacetId, FacetId], int] = {}
    poses = {(b.id, name): pose for b in state.bodies for name, pose in b.facets}
    for lower, upper, side in state.above:
        sides[lower, upper] = side
        sides[upper, lower] = -side if same_way(poses[lower], poses[upper]) else side
    return sides
