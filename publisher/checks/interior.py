"""What a closed piece holds, and how large it is outside.

Three kinds of room are told apart by how the piece closes: a *tray* (walls stand round a
base), a *band* (a strip goes round something) and a *pocket* (flaps lie flat on a base).
Each comes with the sum that it was computed from: caliper and glue are taken off.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Literal

import shapely
from msgspec import Struct
from shapely.geometry.base import BaseGeometry

from publisher.assembly.types import Bond
from publisher.geometry.flatten import flattened
from publisher.geometry.measure import area
from publisher.geometry.path import Path
from publisher.geometry.space import Pose, Vector, dot, lift
from publisher.model.folding import closed_angles, facet_corners, facet_poses
from publisher.model.types import BandOf, Piece, Term

AXES = ("across", "down", "deep")
_ON_THE_FLOOR_MM = 1.0


class Room(Struct, frozen=True):
    """The free inside of a closed piece in the directions of its base, mm.

    ``deep_mm`` is the height of the walls of a tray, None where nothing limits it (a pocket
    takes up its contents' thickness from the other two; a band is open at its ends).
    """

    kind: Literal["tray", "band", "pocket"]
    across_mm: float
    down_mm: float
    deep_mm: float | None
    sum: tuple[Term, ...]


def _mapped(path: Path, pose: Pose) -> shapely.Polygon:
    """A flat ring after a pose that keeps it in the base's plane; y down again."""
    points = [pose.apply(lift(p)) for p in flattened(path, tolerance_mm=0.01)]
    return shapely.Polygon([(p[0], -p[1]) for p in points])


def _stands(normal: Vector) -> bool:
    return abs(normal[2]) < 0.02


def _axis(normal: Vector) -> int | None:
    for axis in (0, 1):
        if abs(normal[axis]) > 0.9998:
            return axis
    return None


def tray_room(piece: Piece) -> Room | None:
    """Room between walls that stand square round the first facet; None where there are none.

    A tab glued inside a wall takes one caliper from that side.
    """
    poses = facet_poses(piece, closed_angles(piece))
    tabs = {p.name for p in piece.panels if p.kind == "tab"}
    inside_tabs = tabs_inside(piece)
    base = _mapped(piece.facets[0].region.outer, Pose()).bounds
    middle = ((base[0] + base[2]) / 2, -(base[1] + base[3]) / 2)
    standing: list[tuple[tuple[int, int], float, float, float]] = []
    layers: dict[tuple[int, int], int] = {}
    for facet in piece.facets[1:]:
        pose = poses[facet.name]
        axis = _axis(pose.normal)
        if not _stands(pose.normal) or axis is None:
            continue
        corners = facet_corners(piece, facet.name, pose)
        at = corners[0][axis] - middle[axis]
        side = (axis, 1 if at > 0 else -1)
        if facet.panel in tabs:
            layers[side] = max(layers.get(side, 0), 1 if facet.panel in inside_tabs else 0)
        else:
            ups = [abs(c[2]) for c in corners]
            standing.append((side, abs(at), min(ups), max(ups)))
    rim = min((top for _, _, foot, top in standing if foot < _ON_THE_FLOOR_MM), default=0.0)
    walls: dict[tuple[int, int], list[float]] = {}
    for side, off, foot, _ in standing:
        if foot < rim:  # the handle of a gable roof stands over the room, not in it
            walls.setdefault(side, []).append(off)
    if len(walls) < 3:
        return None
    free: list[float] = []
    terms: list[Term] = []
    caliper = piece.stock.caliper_mm
    for axis in (0, 1):
        span = (base[2] - base[0]) if axis == 0 else (base[3] - base[1])
        if (axis, 1) in walls and (axis, -1) in walls:
            span = min(walls[(axis, 1)]) + min(walls[(axis, -1)])
        lost = caliper * (layers.get((axis, 1), 0) + layers.get((axis, -1), 0))
        terms.append(Term(f"{AXES[axis]} between the walls", span))
        if lost:
            terms.append(Term(f"{AXES[axis]}, taken by glued tabs", -lost))
        free.append(span - lost)
    terms.append(Term("height of the lowest wall", rim))
    return Room("tray", free[0], free[1], rim, tuple(terms))


def tabs_inside(piece: Piece) -> frozenset[str]:
    """The tabs that are glued on the inside of what they meet."""
    tabs = {p.name for p in piece.panels if p.kind == "tab"}
    return frozenset(
        z.panel
        for z in piece.glue_zones
        if z.panel in tabs and z.face == _outer_face(piece, z.panel)
    )


def _outer_face(piece: Piece, panel: str | None) -> str:
    """The face of a panel that looks outwards when its own fold is closed."""
    bends = [f.bend for f in piece.folds if f.child == panel]
    return "back" if bends and bends[0] == "valley" else "front"


def band_room(piece: Piece, bonds: Iterable[Bond] = ()) -> Room | None:
    """Inside of a band's loop; the direction that it leaves open has no limit."""
    band = piece.derived
    if not isinstance(band, BandOf):
        return None
    panels = [p for p in piece.panels if p.kind == "panel"]
    down = band.direction == "down"
    sizes = [p.height_mm if down else p.width_mm for p in panels]
    length = panels[0].width_mm if down else panels[0].height_mm
    terms = [Term("first panel", sizes[0]), Term("second panel", sizes[1])]
    inner = next((z for z in piece.glue_zones if z.panel == "overlap"), None)
    lost = piece.stock.caliper_mm if inner is not None and inner.face == "front" else 0.0
    if lost:
        terms.append(Term("overlap inside the loop", -lost))
    # A loop's first panel lies along the body's height or width, its second along the depth.
    tall = sizes[0]
    deep = sizes[1] - lost
    if down:
        return Room("band", length, tall, deep, tuple(terms))
    return Room("band", tall, length, deep, tuple(terms))


def pocket_room(piece: Piece, bonds: Iterable[Bond], flap: str | None = None) -> Room | None:
    """Room between a base and the flaps that lie flat on it, glue taken off.

    With ``flap`` the pocket under that one panel is measured, else the whole base.
    """
    beside = _neighbours(piece)
    if not beside or (flap is not None and flap not in beside):
        return None
    choice = sorted(beside) if flap is None else beside[flap]
    base_name = max(choice, key=lambda n: (len(beside[n]), _facet_area(piece, n)))
    poses = facet_poses(piece, closed_angles(piece))
    home = poses[base_name].inverse()
    here: Mapping[str, Pose] = {name: home.after(pose) for name, pose in poses.items()}
    base = _mapped(piece.facet(base_name).region.outer, here[base_name])
    flat = [
        f.name
        for f in piece.facets
        if f.name != base_name and dot(here[f.name].normal, (0, 0, 1)) < -0.9998
    ]
    if not flat:
        return None
    room: BaseGeometry = base
    if flap is not None:
        room = base.intersection(_mapped(piece.facet(flap).region.outer, here[flap]))
    x0, y0, x1, y1 = room.bounds
    terms = [Term("across the pocket", x1 - x0), Term("down the pocket", y1 - y0)]
    bonded = {
        b.zone
        for b in bonds
        if b.first[0] == b.second[0] and base_name in (b.first[1], b.second[1])
    }
    middle = ((x0 + x1) / 2, (y0 + y1) / 2)
    for zone in piece.glue_zones:
        if zone.name not in bonded or zone.panel is None:
            continue
        at = _mapped(zone.region.outer, here[zone.panel]).intersection(room)
        if at.is_empty:
            continue
        zx0, zy0, zx1, zy1 = at.bounds
        if zy1 - zy0 >= zx1 - zx0:
            if (zx0 + zx1) / 2 < middle[0]:
                terms.append(Term(f"glue at {zone.name}", x0 - zx1))
                x0 = max(x0, zx1)
            else:
                terms.append(Term(f"glue at {zone.name}", zx0 - x1))
                x1 = min(x1, zx0)
        elif (zy0 + zy1) / 2 < middle[1]:
            terms.append(Term(f"glue at {zone.name}", y0 - zy1))
            y0 = max(y0, zy1)
        else:
            terms.append(Term(f"glue at {zone.name}", zy0 - y1))
            y1 = min(y1, zy0)
    return Room("pocket", x1 - x0, y1 - y0, None, tuple(terms))


def _neighbours(piece: Piece) -> dict[str, list[str]]:
    """For each facet with a hinge the facets that it turns about, in the piece's order."""
    beside: dict[str, list[str]] = {}
    for hinge in piece.hinges:
        beside.setdefault(hinge.parent, []).append(hinge.child)
        beside.setdefault(hinge.child, []).append(hinge.parent)
    return beside


def _facet_area(piece: Piece, name: str) -> float:
    return area(piece.facet(name).region)


class Overlap(Struct, frozen=True):
    """Two flaps that lie on the same base from opposite sides, and how far they overlap."""

    first: str
    second: str
    mm: float


def overlaps(piece: Piece) -> tuple[Overlap, ...]:
    """How far facets that close flat over the same one reach past each other.

    Common practice, no source: a 7 by 5 in blank scored at 2 and 5 in closes with 1 in.
    """
    poses = facet_poses(piece, closed_angles(piece))
    found: list[Overlap] = []
    seen: set[tuple[str, str]] = set()
    for parent, kids in _neighbours(piece).items():
        home = poses[parent].inverse()
        flaps = [k for k in kids if home.after(poses[k]).normal[2] < -0.9998]
        for i, a in enumerate(flaps):
            for b in flaps[i + 1 :]:
                key = (min(a, b), max(a, b))
                if key in seen:
                    continue
                first = _mapped(piece.facet(a).region.outer, home.after(poses[a]))
                second = _mapped(piece.facet(b).region.outer, home.after(poses[b]))
                shared = first.intersection(second)
                if shared.area > 1e-6:
                    seen.add(key)
                    x0, y0, x1, y1 = shared.bounds
                    found.append(Overlap(a, b, min(x1 - x0, y1 - y0)))
    return tuple(found)
