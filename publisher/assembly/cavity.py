"""The room inside a folded body, and how another one may stand in it."""

from __future__ import annotations

import itertools
from collections.abc import Sequence

from msgspec import Struct

from publisher.assembly.bodies import box, middle
from publisher.assembly.kit import Kit, polygon_of
from publisher.assembly.types import Body
from publisher.geometry.space import (
    IDENTITY,
    Matrix,
    Pose,
    Vector,
    cross,
    dot,
    lift,
    norm,
    scaled,
    sub,
    unit,
)
from publisher.model.types import BandOf

_STANDING_DEG = 1.0
FIT_MM = 0.05
_SQUARE = 0.9998
_SLANTS = 0.1
_SIDE_MM = 0.05
"""How near a facet lies to a side of the room to be that side, and how square to it."""


class Cavity(Struct, frozen=True):
    """A box-shaped room. ``frame`` is the world pose of the facet whose axes it goes by (x
    right, y up the paper, z front); ``least``/``greatest`` are its inside in that frame, fold
    plane to fold plane. ``axis`` (0, 1, 2) is the way in; ``ways`` the ends that are open."""

    frame: Pose
    least: Vector
    greatest: Vector
    axis: int
    ways: tuple[int, ...]

    def direction(self, way: int) -> Vector:
        """The way out of an open end, in the world."""
        ahead = [0.0, 0.0, 0.0]
        ahead[self.axis] = float(way)
        return self.frame.turn((ahead[0], ahead[1], ahead[2]))

    @property
    def walled(self) -> tuple[int, ...]:
        """The axes across which there are walls on both sides."""
        return tuple(i for i in range(3) if i != self.axis)


def reference_facet(kit: Kit, body: Body) -> str:
    """The facet by whose axes a body is placed: a band's first panel, else the facet that
    rests."""
    piece = kit.pieces[body.piece]
    if isinstance(piece.derived, BandOf):
        return (kit.facets_of(piece.name, "panel 1") or (piece.facets[0].name,))[0]
    return kit.resting[body.piece]


def measured_facet(kit: Kit, body: Body) -> str:
    """The facet by whose axes a band was measured for the body: ``closed_size`` takes the first."""
    piece = kit.pieces[body.piece]
    return reference_facet(kit, body) if isinstance(piece.derived, BandOf) else piece.facets[0].name


def inner_side(kit: Kit, body: Body, of: str = "") -> int:
    """Towards which face of a facet, the reference facet if no other is given, the body folds:
    -1 back (mountain folds), +1 front (valley folds). A piece without folds is taken as
    mountain."""
    facet = of or reference_facet(kit, body)
    piece = kit.pieces[body.piece]
    near = {h.fold for h in piece.hinges if facet in (h.parent, h.child)}
    valleys = sum(piece.fold(name).bend == "valley" for name in sorted(near))
    return 1 if 2 * valleys > len(near) else -1


def cavity(kit: Kit, body: Body) -> Cavity | None:
    """The room that a body encloses as it is folded now; None where no fold stands up.

    Standing folds that all run one way make a tube with two open ends, and one of those is
    shut where paper lies across it. Else it is a tray that opens towards the side that its
    walls stand on.
    """
    piece = kit.pieces[body.piece]
    angles = dict(body.angles)
    frame = body.facet_pose(reference_facet(kit, body))
    into = frame.inverse()
    axes: list[Vector] = []
    for hinge in piece.hinges:
        if _STANDING_DEG < abs(angles.get(hinge.fold, 0.0)) < 180.0 - _STANDING_DEG:
            pose = into.after(body.facet_pose(hinge.parent))
            axes.append(unit(pose.turn(sub(lift(hinge.end), lift(hinge.start)))))
    if not axes:
        return None
    least, greatest = box(kit, [body], seen_from=frame)
    if all(norm(cross(axes[0], axis)) < 1e-6 for axis in axes) and len(axes) > 2:
        along = max(range(3), key=lambda i: round(abs(axes[0][i]), 6))
        return Cavity(frame, least, greatest, along, (1, -1))
    open_ends = _open_ends(kit, body, into, least, greatest)
    if len(open_ends) == 1:
        axis, way = open_ends[0]
        return Cavity(frame, least, greatest, axis, (way,))
    return Cavity(frame, least, greatest, 2, (inner_side(kit, body),))


def _open_ends(
    kit: Kit, body: Body, into: Pose, least: Vector, greatest: Vector
) -> list[tuple[int, int]]:
    """The sides of the room, as (axis, way), that no paper lies in, nor stands before: where
    two walls of a prism meet there is no way out."""
    shut: set[tuple[int, int]] = set()
    heart = middle((least, greatest))
    for facet in kit.pieces[body.piece].facets:
        pose = into.after(body.facet_pose(facet.name))
        for axis in range(3):
            if abs(pose.normal[axis]) < _SQUARE:
                way = _stands_before(kit, body, facet.name, pose, heart, axis)
                if way:
                    shut.add((axis, way))
                continue
            at = pose.apply(lift(facet.region.outer.segments[0].start))[axis]
            if abs(at - least[axis]) <= _SIDE_MM:
                shut.add((axis, -1))
            if abs(at - greatest[axis]) <= _SIDE_MM:
                shut.add((axis, 1))
    return [(axis, way) for axis in range(3) for way in (1, -1) if (axis, way) not in shut]


def _stands_before(kit: Kit, body: Body, facet: str, pose: Pose, heart: Vector, axis: int) -> int:
    """Which way along the axis, +1 or -1, one meets a slanting facet from the room's middle; 0
    where one does not."""
    from shapely import Point

    slope = pose.normal[axis]
    if abs(slope) < _SLANTS:
        return 0
    run = dot(sub(pose.shift, heart), pose.normal) / slope
    at = [*heart]
    at[axis] += run
    x, y, _ = pose.inverse().apply((at[0], at[1], at[2]))
    ring = polygon_of(kit.shapes[body.piece, facet])
    if abs(run) < _SIDE_MM or ring.distance(Point(x, -y)) > _SIDE_MM:
        return 0
    return 1 if run > 0 else -1


# ---------------------------------------------------------------- standing in it


def square_turns() -> tuple[Matrix, ...]:
    """The 24 turns that carry axes onto axes, no turn first."""
    found: list[Matrix] = []
    for order in itertools.permutations(range(3)):
        for signs in itertools.product((1.0, -1.0), repeat=3):
            rows = tuple(
                tuple(signs[i] if j == order[i] else 0.0 for j in range(3)) for i in range(3)
            )
            matrix: Matrix = (_row(rows[0]), _row(rows[1]), _row(rows[2]))
            if abs(dot(cross(matrix[0], matrix[1]), matrix[2]) - 1.0) < 1e-9:
                found.append(matrix)
    return tuple(sorted(found, key=lambda m: m != IDENTITY))


def _row(values: Sequence[float]) -> Vector:
    return (values[0], values[1], values[2])


def alike(first: Matrix, second: Matrix) -> float:
    """How near two rotations are: 3 for the same, -1 for half a turn apart; rounded, so that
    a choice between equals does not hang on the last bit."""
    return round(sum(dot(a, b) for a, b in zip(first, second, strict=True)), 6)


def lengths(ends: tuple[Vector, Vector]) -> Vector:
    return sub(ends[1], ends[0])


def turned_lengths(turn: Matrix, size: Vector) -> Vector:
    """A box's lengths along the axes after a square turn."""
    x, y, z = (abs(dot(row, size)) for row in turn)
    return (x, y, z)


def standing(room: Cavity, turn: Matrix, content: tuple[Vector, Vector]) -> Pose:
    """The pose, in the room's frame, of a box (in its own frame) turned by ``turn``: in the
    middle between the walls; in a tube also in the middle of its length, in a tray on its
    floor."""
    spin = Pose(turn)
    goal = list(middle((room.least, room.greatest)))
    if len(room.ways) == 1:
        half = turned_lengths(turn, lengths(content))[room.axis] / 2.0
        way = room.ways[0]
        floor = room.least[room.axis] if way > 0 else room.greatest[room.axis]
        goal[room.axis] = floor + way * half
    here = spin.turn(middle(content))
    return Pose(turn, sub((goal[0], goal[1], goal[2]), here))


def free(room: Cavity, turn: Matrix, content: tuple[Vector, Vector]) -> float:
    """The least that is free between the walls, mm; negative where it does not go in."""
    size = turned_lengths(turn, lengths(content))
    inside = lengths((room.least, room.greatest))
    return min(inside[i] - size[i] for i in room.walled)


def stands_inside(kit: Kit, room: Cavity, bodies: Sequence[Body]) -> bool:
    """Whether bodies stand in the room already: within its walls, and more than half in."""
    least, greatest = box(kit, bodies, calipers=True, seen_from=room.frame)
    for i in room.walled:
        if least[i] < room.least[i] - FIT_MM or greatest[i] > room.greatest[i] + FIT_MM:
            return False
    i = room.axis
    shared = min(greatest[i], room.greatest[i]) - max(least[i], room.least[i])
    return shared > 0.5 * min(greatest[i] - least[i], room.greatest[i] - room.least[i])


def outside_offset(room: Cavity, way: int, length_mm: float, clear_mm: float) -> Vector:
    """How far a content of this length must stand off to be wholly outside an open end."""
    inside = lengths((room.least, room.greatest))[room.axis]
    reach = max(length_mm, (length_mm + inside) / 2.0) + clear_mm
    return scaled(room.direction(way), reach)
