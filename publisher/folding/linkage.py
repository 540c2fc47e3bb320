"""Rigid papers and the folds between them as a linkage: a tree to pose, loops that must close.

A node is a facet, named (body id, facet name). A link carries one facet into the next by a
turn about a fold, or holds both together (a glued joint). Poses of facets are as in
``model.hinges``: the flat paper with its front up is the frame that every facet starts from.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from typing import TypeAlias

from msgspec import Struct

from publisher.geometry.space import Pose, Vector, scaled, turned
from publisher.model.hinges import joint_at
from publisher.model.types import Piece

Node: TypeAlias = tuple[str, str]
"""(body id, facet name)."""

Key: TypeAlias = tuple[str, str]
"""(body id, fold name): one angle, which all hinges of that fold share."""

Angles: TypeAlias = Mapping[Key, float]
"""Degrees travelled from flat, positive in the sense of the fold."""


UNMOVED = Pose()


class Link(Struct, frozen=True):
    """``pose(second) = pose(first) * turn(angle) * rest``.

    The turn is right-handed, about ``axis`` through ``origin`` (mm, in the frame of ``first``).
    ``fold`` is None where both are held together. ``ideal`` is ``rest`` as the loops see it:
    papers glued flat on each other without their thickness, so that two folds that lie on each
    other turn about one line.
    """

    first: Node
    second: Node
    fold: Key | None
    origin: Vector
    axis: Vector
    rest: Pose = UNMOVED
    ideal: Pose = UNMOVED

    def carry(self, angles: Angles) -> Pose:
        angle = angles.get(self.fold, 0.0) if self.fold is not None else 0.0
        return turned(self.origin, self.axis, angle).after(self.rest) if angle else self.rest

    def turned_round(self) -> Link:
        """The same link seen from its other end."""
        back = UNMOVED if self.rest == UNMOVED else self.rest.inverse()
        ideal = UNMOVED if self.ideal == UNMOVED else self.ideal.inverse()
        return Link(
            self.second,
            self.first,
            self.fold,
            ideal.apply(self.origin),
            scaled(ideal.turn(self.axis), -1.0),
            back,
            ideal,
        )


Loop: TypeAlias = tuple[Link, ...]
"""Links that lead from a facet through others back to it; their motions together are none."""


class Linkage(Struct, frozen=True):
    """``tree`` hangs every facet on ``root``, those nearer to it first; ``loops`` are what the
    links outside the tree close, those of one and the same line left out."""

    root: Node
    tree: tuple[Link, ...]
    loops: tuple[Loop, ...]

    def poses(self, angles: Angles) -> dict[Node, Pose]:
        """Where every facet is in the frame of the root."""
        found = {self.root: Pose()}
        for link in self.tree:
            found[link.second] = found[link.first].after(link.carry(angles))
        return found

    def folds(self) -> tuple[Key, ...]:
        """The folds that loops join to each other, in their order."""
        return tuple(dict.fromkeys(k.fold for loop in self.loops for k in loop if k.fold))

    @property
    def glued(self) -> bool:
        """Whether papers that hold to each other have a part in the loops."""
        return any(link.fold is None for loop in self.loops for link in loop)

    def joined_to(self, folds: Iterable[Key]) -> Linkage:
        """Only the loops that share folds with these, directly or by way of others."""
        chosen, known = set[int](), set(folds)
        grown = True
        while grown:
            grown = False
            for i, loop in enumerate(self.loops):
                own = {link.fold for link in loop if link.fold is not None}
                if i not in chosen and own & known:
                    chosen.add(i)
                    known |= own
                    grown = True
        return Linkage(self.root, self.tree, tuple(self.loops[i] for i in sorted(chosen)))


def links_of(piece: Piece, body: str = "") -> list[Link]:
    """One link for each hinge of a piece, from parent to child."""
    found = []
    for hinge in piece.hinges:
        joint = joint_at(piece, hinge, hinge.child)
        ends = (body, hinge.parent), (body, hinge.child)
        found.append(Link(*ends, (body, hinge.fold), joint.origin, joint.axis))
    return found


def weld(first: Node, second: Node, rest: Pose, ideal: Pose | None = None) -> Link:
    """Two facets that hold together as they lie."""
    return Link(first, second, None, (0.0, 0.0, 0.0), (0.0, 0.0, 1.0), rest, ideal or rest)


def linkage(links: Sequence[Link], root: Node) -> Linkage:
    """The tree that is found from ``root`` breadth first, in the order of the links, and the
    loops that the other links close. What no link reaches is left out."""
    around: dict[Node, list[tuple[int, Link]]] = {}
    for i, link in enumerate(links):
        around.setdefault(link.first, []).append((i, link))
        around.setdefault(link.second, []).append((i, link.turned_round()))
    tree: dict[Node, tuple[int, Link]] = {}
    waiting = [root]
    for here in waiting:
        for i, link in around.get(here, ()):
            if link.second != root and link.second not in tree:
                tree[link.second] = (i, link)
                waiting.append(link.second)
    used = {i for i, _ in tree.values()}
    reached = {root, *tree}
    loops = []
    for i, link in enumerate(links):
        if i not in used and link.first in reached:
            loop = _loop(tree, link)
            if not _same_line(loop):
                loops.append(loop)
    return Linkage(root, tuple(link for _, link in tree.values()), tuple(loops))


def _loop(tree: Mapping[Node, tuple[int, Link]], link: Link) -> Loop:
    """From the nearest common facet down to the link's first end, over it, and back up."""
    down, back = _up(tree, link.first), _up(tree, link.second)
    while down and back and down[-1] == back[-1]:
        down.pop()
        back.pop()
    return (*reversed(down), link, *(step.turned_round() for step in back))


def _up(tree: Mapping[Node, tuple[int, Link]], node: Node) -> list[Link]:
    way = []
    while node in tree:
        way.append(tree[node][1])
        node = tree[node][1].first
    return way


def _same_line(loop: Loop) -> bool:
    """Whether a loop is one fold there and back: two stretches of one line between the same
    two facets close by themselves."""
    return len(loop) == 2 and loop[0].fold is not None and loop[0].fold == loop[1].fold


def closing_gap(loops: Iterable[Loop], angles: Angles) -> float:
    """How far the loops fail to close, in mm: the largest distance between a corner of a frame
    as large as the loop and the same corner after one round."""
    return max((_gap(loop, angles) for loop in loops), default=0.0)


def _gap(loop: Loop, angles: Angles) -> float:
    round_trip = Pose()
    for link in loop:
        angle = angles.get(link.fold, 0.0) if link.fold is not None else 0.0
        if angle:
            round_trip = round_trip.after(turned(link.origin, link.axis, angle))
        if link.ideal is not UNMOVED:
            round_trip = round_trip.after(link.ideal)
    return max(math.dist(round_trip.apply(p), p) for p in markers(loop))


def markers(loop: Loop) -> tuple[Vector, ...]:
    """Four points, not in one plane, as far apart as the loop is large: if they come back to
    their places, all has come back."""
    x, y, z = loop[0].origin
    size = max(1.0, *(math.dist(loop[0].origin, link.origin) for link in loop))
    return ((x, y, z), (x + size, y, z), (x, y + size, z), (x, y, z + size))
