"""How one piece folds: the pose of each facet, and the size of the closed thing.

The fold axes lie in one plane of zero thickness (the faces that come to lie inside), so that
nets close exactly; caliper is added where a size is asked for. Where the inside of a box is
measured crease to crease, the outside is that and one caliper for each wall.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import lru_cache
from typing import TYPE_CHECKING

from publisher.geometry.flatten import flattened
from publisher.geometry.space import Pose, Vector, add, dot, lift, scaled
from publisher.model.hinges import hang, joints
from publisher.model.types import Panel, Piece

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry

_DUST_MM2 = 0.01


def facet_poses(piece: Piece, angles_deg: Mapping[str, float]) -> dict[str, Pose]:
    """The pose of every facet relative to the first one, for fold angles by fold name.

    Angles are degrees travelled from flat, positive in the sense of the fold (mountain: away
    from the front face; valley: towards it). A fold that is not named lies flat. Facets that
    no hinge reaches keep the identity. Where hinges form a loop the first path found from the
    root decides; ``hinges.loop_residual`` says how far the loop then fails to close.
    """
    return hang(piece, joints(piece), angles_deg)


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


@lru_cache(maxsize=256)
def closed_box(piece: Piece) -> tuple[Vector, Vector]:
    """Corners (least, greatest) of the closed piece in the frame of its first facet, mm.

    The paper lies outside the fold planes. Layers that come to lie on each other from outside
    add up (two flaps over one another are two calipers); a tab that is glued to the inside of
    a wall does not. A piece that closes flat is as thick as its thickest place. Remembered:
    several claims ask for it, and most pieces stay as they are when one size is tried otherwise.
    """
    return box_round(piece, facet_poses(piece, closed_angles(piece)))


def box_round(piece: Piece, poses: Mapping[str, Pose]) -> tuple[Vector, Vector]:
    """The same for any poses of its facets, in whose frame the corners are."""
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
        outer = [n for n in names if not _glued_inside(piece, piece.panel(piece.facet(n).panel))]
        count = max(1, deepest(piece, poses, outer))
        counts.update(dict.fromkeys(members, count))
    return counts


def _glued_inside(piece: Piece, panel: Panel) -> bool:
    """Whether a tab lies inside what it meets: its front face carries the glue."""
    zone = next((z for z in piece.glue_zones if z.panel == panel.name), None)
    return panel.meets is not None and (zone is None or zone.face == "front")


def deepest(piece: Piece, poses: Mapping[str, Pose], names: Sequence[str]) -> int:
    """The largest number of these facets, all in one plane, that cover one spot."""
    if len(names) < 2:
        return len(names)
    from shapely import Polygon  # most pieces close without papers in one plane

    frame = poses[names[0]].inverse()
    # levels[i] is the paper that lies at least i + 1 deep.
    levels: list[BaseGeometry] = []
    for name in names:
        corners = (frame.apply(c) for c in facet_corners(piece, name, poses[name]))
        shape: BaseGeometry = Polygon([(c[0], c[1]) for c in corners])
        for i, level in enumerate(levels):
            levels[i] = level.union(shape)
            shape = _without_dust(level.intersection(shape))
            if shape.is_empty:
                break
        else:
            levels.append(shape)
    return len(levels)


def _without_dust(shape: BaseGeometry) -> BaseGeometry:
    from shapely import MultiPolygon, Polygon, get_parts

    parts = get_parts(shape)
    kept = [p for p in parts if isinstance(p, Polygon) and p.area > _DUST_MM2]
    return kept[0] if len(kept) == 1 else MultiPolygon(kept)
