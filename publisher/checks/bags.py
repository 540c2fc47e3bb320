"""Which room a piece encloses; that of a bag, a strip closed to a tube whose back stands off its
front, is measured here."""

from __future__ import annotations

from publisher.assembly.types import Bond
from publisher.checks.interior import (
    AXES,
    Room,
    band_room,
    pocket_room,
    tabs_inside,
    tray_room,
)
from publisher.geometry.flatten import flattened
from publisher.geometry.space import Pose, Vector, lift
from publisher.model.folding import closed_angles, facet_poses
from publisher.model.types import Piece, Term

_PARALLEL = 0.9998
_LEANS = 0.7
"""How near to upright a gusset must stand on an axis, as the cosine; one that leans in further
is no wall."""
_APART_MM = 1.0
"""A back nearer than that lies flat on its front: a pocket."""


def room_of(piece: Piece, bonds: tuple[Bond, ...], flap: str | None = None) -> Room | None:
    """The room that a piece encloses, or None where it encloses none."""
    if flap is not None:
        return pocket_room(piece, bonds, flap)
    rooms = (band_room(piece, bonds), tray_room(piece), bag_room(piece))
    return next((room for room in rooms if room is not None), None) or pocket_room(piece, bonds)


def bag_room(piece: Piece) -> Room | None:
    """Room between the first facet, the one across from it and the walls on both sides of it;
    None where no such walls stand. What leans in takes as much as its crease reaches in."""
    poses = facet_poses(piece, closed_angles(piece))
    home = poses[piece.facets[0].name].inverse()
    tabs = {p.name for p in piece.panels if p.kind == "tab"}
    inside = tabs_inside(piece)
    front = _ends(piece, piece.facets[0].name, Pose())
    least, most = [front[0][0], front[0][1]], [front[1][0], front[1][1]]
    middle = [(a + b) / 2.0 for a, b in zip(least, most, strict=True)]
    shut: set[tuple[int, int]] = set()
    off: list[float] = []
    lost = [0.0, 0.0, 0.0]
    for facet in piece.facets[1:]:
        pose = home.after(poses[facet.name])
        near, far = _ends(piece, facet.name, pose)
        axis = max(range(3), key=lambda i: round(abs(pose.normal[i]), 9))
        if facet.panel in tabs:
            if facet.panel in inside:
                lost[axis] = piece.stock.caliper_mm
        elif pose.normal[2] < -_PARALLEL:
            off.append(min(abs(near[2]), abs(far[2])))
        elif axis < 2 and abs(pose.normal[axis]) > _LEANS:
            way = 1 if (near[axis] + far[axis]) / 2.0 > middle[axis] else -1
            shut.add((axis, way))
            if way > 0:
                most[axis] = min(most[axis], near[axis])
            else:
                least[axis] = max(least[axis], far[axis])
    walled = any({(axis, 1), (axis, -1)} <= shut for axis in (0, 1))
    if not walled or not off or min(off) < _APART_MM:
        return None
    free = [b - a for a, b in zip(least, most, strict=True)] + [min(off)]
    terms = [
        Term(f"{AXES[0]} between its sides", free[0]),
        Term(f"{AXES[1]} between its ends", free[1]),
        Term("from front to back", free[2]),
    ]
    terms += [
        Term(f"{AXES[i]}, taken by a glued tab", -taken) for i, taken in enumerate(lost) if taken
    ]
    across, down, deep = (f - taken for f, taken in zip(free, lost, strict=True))
    return Room("tray", across, down, deep, tuple(terms))


def _ends(piece: Piece, facet: str, pose: Pose) -> tuple[Vector, Vector]:
    """The box round a facet where ``pose`` carries it: least and greatest on each axis, mm."""
    outer = piece.facet(facet).region.outer
    points = [pose.apply(lift(p)) for p in flattened(outer, tolerance_mm=0.01)]
    x, y, z = zip(*points, strict=True)
    return (min(x), min(y), min(z)), (max(x), max(y), max(z))
