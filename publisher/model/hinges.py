"""Hinges as a tree to hang facets on, and how far a loop of hinges fails to close.

The tree is worked out once for a piece (``joints``) and posed as often as wanted
(``hang``): a posing costs one turn for each folded hinge.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from msgspec import Struct

from publisher.geometry.flatten import flattened
from publisher.geometry.space import Pose, Vector, lift, scaled, sub, turned
from publisher.model.kept import kept
from publisher.model.types import Hinge, Piece


class Joint(Struct, frozen=True):
    """``facet`` hangs on the facet ``on``. A right-handed turn about ``axis`` through
    ``origin`` (body frame, front face up, mm) carries it the way that its fold goes."""

    facet: str
    on: str
    fold: str
    origin: Vector
    axis: Vector

    def turn(self, angle_deg: float) -> Pose:
        return turned(self.origin, self.axis, angle_deg)


def joint_at(piece: Piece, hinge: Hinge, hangs: str) -> Joint:
    """The hinge as the joint by which the facet ``hangs`` (one of its two) hangs."""
    # The parent lies on the right of start -> end as seen from the front, the child on the
    # left. A right-handed turn about start -> end lifts the left side towards the front,
    # which is a valley fold; seen from the child the parent turns the other way.
    start = lift(hinge.start)
    valley = piece.fold(hinge.fold).bend == "valley"
    along = sub(lift(hinge.end), start)
    axis = along if valley == (hangs == hinge.child) else scaled(along, -1.0)
    on = hinge.parent if hangs == hinge.child else hinge.child
    return Joint(hangs, on, hinge.fold, start, axis)


def way_up(tree: Mapping[str, Joint], facet: str) -> list[str]:
    """A facet and those that it hangs on, one after the other, without the one that all hang
    on; ``tree`` is the joints by their facet."""
    way = []
    while facet in tree:
        way.append(facet)
        facet = tree[facet].on
    return way


@kept
def joints(piece: Piece) -> tuple[Joint, ...]:
    """One joint for each facet that hinges reach from the first one, parents before children.

    Where hinges form a loop, the first way found (in the order of ``piece.hinges``) decides.
    """
    found: list[Joint] = []
    reached = {piece.facets[0].name} if piece.facets else set()
    grown = True
    while grown:
        grown = False
        for hinge in piece.hinges:
            ends = (hinge.parent in reached, hinge.child in reached)
            if ends[0] != ends[1]:
                hangs = hinge.child if ends[0] else hinge.parent
                found.append(joint_at(piece, hinge, hangs))
                reached.add(hangs)
                grown = True
    return tuple(found)


def hang(piece: Piece, tree: Sequence[Joint], angles_deg: Mapping[str, float]) -> dict[str, Pose]:
    """The pose of every facet relative to the first one, for fold angles by fold name.

    A fold that is not named lies flat. Facets that no hinge reaches keep the identity.
    """
    poses: dict[str, Pose] = {}
    if not piece.facets:
        return poses
    poses[piece.facets[0].name] = Pose()
    for joint in tree:
        angle = angles_deg.get(joint.fold, 0.0)
        on = poses[joint.on]
        poses[joint.facet] = on.after(joint.turn(angle)) if angle else on
    return {facet.name: poses.get(facet.name, Pose()) for facet in piece.facets}


def loop_residual(piece: Piece, angles_deg: Mapping[str, float]) -> float:
    """How far loops of hinges fail to close at these angles, in mm; 0 where there is none.

    Every hinge outside the tree says where its child facet ought to be; the residual is the
    largest distance between a corner of the facet there and where the tree puts it.
    """
    tree = joints(piece)
    poses = hang(piece, tree, angles_deg)
    held = {(joint.fold, frozenset((joint.facet, joint.on))) for joint in tree}
    worst = 0.0
    for hinge in piece.hinges:
        if (hinge.fold, frozenset((hinge.parent, hinge.child))) in held:
            continue
        if hinge.parent not in poses or hinge.child not in poses:
            continue
        turn = joint_at(piece, hinge, hinge.child).turn(angles_deg.get(hinge.fold, 0.0))
        wanted = poses[hinge.parent].after(turn)
        for point in flattened(piece.facet(hinge.child).region.outer, tolerance_mm=0.05):
            corner = lift(point)
            gap = math.dist(wanted.apply(corner), poses[hinge.child].apply(corner))
            worst = max(worst, gap)
    return worst
