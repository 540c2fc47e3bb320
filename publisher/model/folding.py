"""How one piece folds: the pose of each facet, and the size of the closed thing.

The fold axes lie in one plane of zero thickness (the faces that come to lie inside), so that
nets close exactly; caliper is added where a size is asked for. Where the inside of a box is
measured crease to crease, the outside is that and one caliper for each wall.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry

from publisher.geometry.flatten import flattened
from publisher.geometry.space import Pose, Vector, add, dot, lift, scaled, sub, turned
from publisher.model.types import Hinge, Piece

_DUST_MM2 = 0.01


def hinge_turn(piece: Piece, hinge: Hinge, angle_deg: float) -> Pose:
    """The turn of the child facet about the hinge, in the body frame (front face up).

    ``angle_deg`` is how far the child has travelled from flat, positive in the sense of the
    fold (mountain: away from the front face; valley: towards it).
    """
    fold = piece.fold(hinge.fold)
    start, end = lift(hinge.start), lift(hinge.end)
    # The parent lies on the right of start -> end as seen from the front, the child on the
    # left. A right-handed turn about start -> end lifts the left side towards the front.
    sign = 1.0 if fold.bend == "valley" else -1.0
    return turned(start, sub(end, start), sign * angle_deg)


def facet_poses(piece: Piece, angles_deg: Mapping[str, float]) -> dict[str, Pose]:
    """The pose of every facet relative to the first one, for fold angles by fold name.

    A fold that is not named lies flat. Facets that no hinge reaches keep the identity.
    Where hinges form a loop the first path found from the root decides.
    """
    poses: dict[str, Pose] = {}
    if not piece.facets:
        return poses
    poses[piece.facets[0].name] = Pose()
    grown = True
    while grown:
        grown = False
        for hinge in piece.hinges:
            angle = angles_deg.get(hinge.fold, 0.0)
            if hinge.parent in poses and hinge.child not in poses:
                turn = hinge_turn(piece, hinge, angle)
                poses[hinge.child] = poses[hinge.parent].after(turn)
                grown = True
            elif hinge.child in poses and hinge.parent not in poses:
                turn = hinge_turn(piece, hinge, angle).inverse()
                poses[hinge.parent] = poses[hinge.child].after(turn)
                grown = True
    for facet in piece.facets:
        poses.setdefault(facet.name, Pose())
    return poses


def closed_angles(piece: Piece) -> dict[str, float]:
    """Every fold at its closing angle."""
    return {fold.name: fold.closing_deg for fold in piece.folds}


def facet_corners(piece: Piece, facet_name: str, pose: Pose) -> list[Vector]:
    """The facet's outer ring in space, arcs as chords within 0.05 mm."""
    ring = flattened(piece.facet(facet_name).region.outer, tolerance_mm=0.05)
    return [pose.apply(lift(p)) for p in ring]


def outward(piece: Piece, facet_name: str) -> tuple[float, ...]:
    """Towards which faces the paper's thickness lies from the fold plane: +1 front, -1 back.

    A facet between mountain folds has its back face in the fold plane and its thickness on
    the front side; between valley folds the other way; with both kinds, both sides.
    """
    bends = {
        piece.fold(h.fold).bend for h in piece.hinges if facet_name in (h.parent, h.child)
    } or {"mountain"}
    return tuple(sorted(1.0 if b == "mountain" else -1.0 for b in bends))


def closed_box(piece: Piece) -> tuple[Vector, Vector]:
    """Corners (least, greatest) of the closed piece in the frame of its first facet, mm.

    The paper lies outside the fold planes. Layers that come to lie on each other from outside
    add up (two flaps over one another are two calipers); a tab that is glued to the inside of
    a wall does not. A piece that closes flat is as thick as its thickest place.
    """
    poses = facet_poses(piece, closed_angles(piece))
    layers = stacked(piece, poses)
    least = [float("inf")] * 3
    greatest = [float("-inf")] * 3
    for name, pose in poses.items():
        for side in (0.0, *outward(piece, name)):
            count = layers.get((name, side), 0)
            reach = scaled(pose.normal, side * count * piece.stock.caliper_mm)
            for corner in facet_corners(piece, name, pose):
                p = add(corner, reach)
                for axis in range(3):
                    least[axis] = min(least[axis], p[axis])
                    greatest[axis] = max(greatest[axis], p[axis])
    if all(abs(abs(pose.normal[2]) - 1.0) < 1e-9 for pose in poses.values()):
        # Flat: the first facet's own paper on its side, all other papers on the other.
        thick = deepest(piece, poses, list(poses)) * piece.stock.caliper_mm
        up = outward(piece, piece.facets[0].name)[-1] > 0
        own = piece.stock.caliper_mm
        least[2], greatest[2] = (own - thick, own) if up else (-own, thick - own)
    return (least[0], least[1], least[2]), (greatest[0], greatest[1], greatest[2])


def closed_size(piece: Piece) -> Vector:
    """Outside of the closed piece: across, down, deep in mm (caliper counted)."""
    least, greatest = closed_box(piece)
    return (greatest[0] - least[0], greatest[1] - least[1], greatest[2] - least[2])


def stacked(piece: Piece, poses: Mapping[str, Pose]) -> dict[tuple[str, float], int]:
    """How many papers lie on each other outside a facet's fold plane, by (facet, side)."""
    groups: dict[tuple[float, ...], list[tuple[str, float]]] = {}
    for name, pose in poses.items():
        for side in outward(piece, name):
            away = scaled(pose.normal, side)
            level = dot(away, pose.apply(lift(piece.facet(name).region.outer.start)))
            key = tuple(round(v, 6) + 0.0 for v in (*away, level))
            groups.setdefault(key, []).append((name, side))
    counts: dict[tuple[str, float], int] = {}
    for members in groups.values():
        names = [n for n, _ in members]
        outer = [n for n in names if piece.panel(piece.facet(n).panel).meets is None]
        count = max(1, deepest(piece, poses, outer))
        counts.update(dict.fromkeys(members, count))
    return counts


def deepest(piece: Piece, poses: Mapping[str, Pose], names: Sequence[str]) -> int:
    """The largest number of these facets, all in one plane, that cover one spot."""
    if not names:
        return 0
    frame = poses[names[0]].inverse()
    levels: list[BaseGeometry] = []
    for name in names:
        corners = (frame.apply(c) for c in facet_corners(piece, name, poses[name]))
        shape: BaseGeometry = Polygon([(c[0], c[1]) for c in corners])
        for i, level in enumerate(levels):
            both = level.intersection(shape)
            levels[i] = level.union(shape)
            shape = both
            if shape.area <= _DUST_MM2:
                break
        else:
            if shape.area > _DUST_MM2:
                levels.append(shape)
    return len(levels)
