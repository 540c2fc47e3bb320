"""Folds that loops of paper join to each other, on their way: at every moment they close.

A motion tells where each fold begins and ends. Between, the folds of a loop do not turn evenly:
each moment is the nearest to that at which every loop closes.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from msgspec import Struct

from publisher.assembly.types import Bond, FoldMotion
from publisher.folding.linkage import Key, Link, Linkage, linkage, links_of, weld
from publisher.folding.newton import closed
from publisher.folding.rounds import Rounds
from publisher.geometry.space import Pose
from publisher.model.folding import facet_poses
from publisher.model.types import Piece

_CLOSED_MM = 1e-3
_PARALLEL = 1.0 - 1e-9

Poses = Mapping[str, Mapping[str, Pose]]
"""Of every facet in the world, by body."""


class Loops(Struct, frozen=True):
    """What folds in some motions that begin together, with all that holds to it. ``poses`` and
    ``angles`` are as it begins; ``turned`` has for each fold that turns its first and its last
    angle."""

    whole: Linkage
    pieces: Mapping[str, Piece]
    poses: Poses
    angles: Mapping[str, Mapping[str, float]]
    turned: Mapping[Key, tuple[float, float]]

    @property
    def bodies(self) -> frozenset[str]:
        """What goes as the loops tell; of all else the motions tell enough."""
        return frozenset(body for body, _ in self.whole.poses({}))

    def at(self, share: float) -> tuple[dict[str, dict[str, Pose]], dict[str, dict[str, float]]]:
        """The poses of the bodies and the angles of their folds when each motion has gone a
        share of its way."""
        angles: dict[Key, float] = {
            (body, name): angle for body, own in self.angles.items() for name, angle in own.items()
        }
        angles |= {key: a + (b - a) * share for key, (a, b) in self.turned.items()}
        if 0.0 < share < 1.0:
            free = [key for key in self.whole.folds() if key in self.turned]
            found, gap = closed(Rounds(self.whole.loops), angles, free)
            angles = found if gap < _CLOSED_MM else angles
        root = self.whole.root
        world = self.poses[root[0]][root[1]]
        poses: dict[str, dict[str, Pose]] = {}
        now: dict[str, dict[str, float]] = {}
        for (body, facet), pose in self.whole.poses(angles).items():
            if body not in poses:  # the facet that is nearest to the root carries the others
                own = {name: angles[b, name] for b, name in angles if b == body}
                hung = facet_poses(self.pieces[body], own)
                base = world.after(pose).after(hung[facet].inverse())
                poses[body] = {name: base.after(there) for name, there in hung.items()}
                now[body] = own
        return poses, now


def loops_of(
    motions: Sequence[FoldMotion],
    pieces: Mapping[str, Piece],
    bonds: Sequence[Bond],
    poses: Poses,
    angles: Mapping[str, Mapping[str, float]],
) -> Loops | None:
    """None where no loop joins the folds of the motions, or where paper bends: strips and flaps
    turn as their curve tells (``assembly.flexing``)."""
    if not motions:
        return None
    turned = {(m.body, name): (start, end) for m in motions for name, start, end in m.folds}
    first = motions[0]
    names = [facet.name for facet in pieces[first.body].facets]
    root = next((name for name in names if name not in first.moving), names[0])
    links = [link for body, piece in pieces.items() for link in links_of(piece, body)]
    ends = [b for b in bonds if b.by != "tuck" and b.first[0] in poses and b.second[0] in poses]
    links += [_held(bond, poses) for bond in ends]
    whole = linkage(links, (first.body, root)).joined_to(turned)
    if not whole.loops or any(pieces[body].fold(name).smooth for body, name in whole.folds()):
        return None
    return Loops(whole, pieces, poses, angles, turned)


def _held(bond: Bond, poses: Poses) -> Link:
    """Two facets that hold together as they lie; their calipers are none to the loops."""
    first, second = (poses[body][facet] for body, facet in (bond.first, bond.second))
    rest = first.inverse().after(second)
    x, y, z = rest.shift
    flat = abs(rest.normal[2]) > _PARALLEL
    return weld(bond.first, bond.second, rest, Pose(rest.rotation, (x, y, 0.0 if flat else z)))
