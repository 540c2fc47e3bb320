"""``mount X on Y with PADS``: fixed on pads, a little off the paper below."""

from __future__ import annotations

import math
from itertools import product

from msgspec.structs import replace

from publisher.assembly.approach import move_approach
from publisher.assembly.bodies import joined, taken_up
from publisher.assembly.change import Change, not_yet
from publisher.assembly.glue import bring, seated_face
from publisher.assembly.kit import Kit, landed, polygon_of
from publisher.assembly.placing import Seat, seat
from publisher.assembly.targets import target_bodies
from publisher.assembly.types import Body, Bond, Box, Mark, State
from publisher.geometry.space import moved, scaled
from publisher.model.types import Action

EDGE_MM = 1.0
"""How far pads stay off the edge, so that nobody sees them; our own choice."""

APART_MM = 45.0
"""Pads are at most about so far apart, so that the paper does not sag; our own choice."""


def mount(kit: Kit, state: State, action: Action) -> Change:
    """Lay the subject over the object, as far off it as the pads are thick."""
    ours = [b for t in action.subjects for b in target_bodies(state, t)]
    theirs = [b for t in action.objects for b in target_bodies(state, t)]
    size = action.pad.size_mm if action.pad is not None else None
    if len(ours) != 1 or len(theirs) != 1 or ours == theirs or size is None:
        return Change(state, state, findings=(not_yet(action, "Mounting this there"),))
    start = taken_up(kit, state, theirs)
    body, on = start.body(ours[0]), start.body(theirs[0])
    place = seat(kit, start, action, body, action.subjects[0], on, action.objects[0])
    off = scaled(on.facet_pose(place.on).normal, place.side * size[2])
    place = replace(place, pose=moved(off).after(place.pose))
    start, end, motions, away = bring(kit, start, start, body, on, place)
    boxes = _pads(kit, end.body(body.id), place, end.body(on.id), (size[0], size[1]))
    return Change(
        start,
        end,
        (Mark(body.id, "pads", (), seated_face(place), boxes), *motions),
        bonds=(Bond((body.id, place.facet), (on.id, place.on), "pads", ""),),
        approach=move_approach(end, joined(end, [body.id]), away),
    )


def _pads(
    kit: Kit, body: Body, place: Seat, on: Body, size: tuple[float, float]
) -> tuple[Box, ...]:
    """Where pads go: all over what lies over the other paper, nowhere over its edge. One goes in
    the middle where there is no room for several."""
    import shapely
    from shapely.ops import nearest_points, polylabel

    pose = body.facet_pose(place.facet).inverse().after(on.facet_pose(place.on))
    below = kit.shapes[on.piece, place.on]
    rings = [[(x, -y) for x, y, _ in landed(pose, r)] for r in (below.outer, *below.holes)]
    paper = polygon_of(kit.shapes[body.piece, place.facet])
    shared = shapely.intersection(paper, shapely.Polygon(rings[0], rings[1:]))
    parts = [p for p in shapely.get_parts(shared) if isinstance(p, shapely.Polygon)]
    if not parts:
        return ()
    wide, high = size
    inner = shapely.buffer(shared, -math.hypot(wide, high) / 2.0 - EDGE_MM)
    if inner.is_empty:
        middle = polylabel(max(parts, key=lambda p: round(p.area, 3)), 0.1)
        return (_box(middle.x, middle.y, size),)
    x0, y0, x1, y1 = inner.bounds
    across, down = (
        1 + math.ceil(extent / APART_MM) if extent > 1.5 * pad else 1
        for extent, pad in ((x1 - x0, wide), (y1 - y0, high))
    )
    found: list[tuple[float, float]] = []
    for i, j in product(range(down), range(across)):
        x = x0 + (x1 - x0) * (j / (across - 1) if across > 1 else 0.5)
        y = y0 + (y1 - y0) * (i / (down - 1) if down > 1 else 0.5)
        spot = nearest_points(inner, shapely.Point(x, y))[0]
        at = (round(spot.x, 3), round(spot.y, 3))
        if all(math.dist(at, other) >= 1.2 * math.hypot(wide, high) for other in found):
            found.append(at)
    return tuple(_box(x, y, size) for x, y in found)


def _box(x: float, y: float, size: tuple[float, float]) -> Box:
    wide, high = size
    return (x - wide / 2.0, y - high / 2.0, x + wide / 2.0, y + high / 2.0)
