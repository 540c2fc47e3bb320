"""What closes the sides of a flat pocket: its folds, its glue, flaps folded in behind it."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from publisher.assembly.kit import Kit, landed, shape_of
from publisher.assembly.layering import both_ways
from publisher.assembly.types import Box, FacetId, State
from publisher.geometry.space import lift
from publisher.model.types import Panel, Piece

SIDES = ("left", "top", "right", "bottom")
ON_SIDE_MM = 2.0
"""How far off a panel's side glue or a fold may lie to close it; our own choice."""

_FOLDED_DEG = 1.0


def folded(piece: Piece, facet: str, angles: dict[str, float], panel: Panel) -> Iterator[str]:
    """The sides of the panel that a fold closes."""
    for hinge in piece.hinges:
        if facet in (hinge.parent, hinge.child) and abs(angles[hinge.fold]) > _FOLDED_DEG:
            for edge in panel.edges:
                if edge.name in SIDES and _on(edge.start, edge.end, (hinge.start, hinge.end)):
                    yield edge.name


def _on(
    start: tuple[float, float], end: tuple[float, float], points: Sequence[tuple[float, float]]
) -> bool:
    (x, y), (u, v) = start, end
    size = math.dist(start, end)
    return all(abs((u - x) * (q - y) - (v - y) * (p - x)) < 1e-6 * size for p, q in points)


def glued(
    kit: Kit, state: State, front: FacetId, back: FacetId
) -> Iterator[tuple[float, float, float, float]]:
    """The boxes of the glue between both, in the panel's flat coordinates."""
    into = state.body(front[0]).facet_pose(front[1]).inverse()
    for bond in state.bonds:
        if {bond.first, bond.second} != {front, back} or bond.by == "tuck":
            continue
        body = state.body(bond.first[0])
        zones = kit.pieces[body.piece].glue_zones
        zone = next((z for z in zones if z.name == bond.zone), None)
        if zone is None:
            continue
        pose = into.after(body.facet_pose(bond.first[1]))
        points = [(p[0], -p[1]) for p in landed(pose, shape_of(zone.region).outer)]
        xs, ys = [p[0] for p in points], [p[1] for p in points]
        yield min(xs), min(ys), max(xs), max(ys)


def flaps_between(
    kit: Kit, state: State, front: FacetId, back: FacetId, side: int
) -> Iterator[tuple[FacetId, Box]]:
    """Flaps that fold in from ``back`` and are glued to ``front``, on its face ``side``: each
    with the box of the fold that it hangs on, in the flat coordinates of ``front``."""
    sides = both_ways(state)
    into = state.body(front[0]).facet_pose(front[1]).inverse()
    body = state.body(back[0])
    piece = kit.pieces[body.piece]
    angles = dict(body.angles)
    for bond in state.bonds:
        if bond.by == "tuck" or front not in (bond.first, bond.second):
            continue
        flap = bond.second if bond.first == front else bond.first
        if flap == back or flap[0] != back[0] or sides.get((front, flap)) != side:
            continue
        for hinge in piece.hinges:
            if {hinge.parent, hinge.child} != {flap[1], back[1]}:
                continue
            if abs(angles[hinge.fold]) <= _FOLDED_DEG:
                continue
            pose = into.after(body.facet_pose(hinge.parent))
            ends = [pose.apply(lift(p)) for p in (hinge.start, hinge.end)]
            xs, ys = [p[0] for p in ends], [-p[1] for p in ends]
            yield flap, (min(xs), min(ys), max(xs), max(ys))


def along_a_side(box: Box, bounds: Box) -> tuple[str, float] | None:
    """The side of a panel that a box runs along over more than half of it, and how far in it
    reaches there; None where it does not."""
    (u0, v0, u1, v1), (x0, y0, x1, y1) = box, bounds
    tall = min(v1, y1) - max(v0, y0) > (y1 - y0) / 2
    long = min(u1, x1) - max(u0, x0) > (x1 - x0) / 2
    if tall and u0 - x0 < ON_SIDE_MM:
        return "left", u1
    if tall and x1 - u1 < ON_SIDE_MM:
        return "right", u0
    if long and v0 - y0 < ON_SIDE_MM:
        return "top", v1
    if long and y1 - v1 < ON_SIDE_MM:
        return "bottom", v0
    return None
