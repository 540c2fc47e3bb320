"""``slide X into POCKET``: between two papers that lie on each other, from an open side."""

from __future__ import annotations

from collections.abc import Sequence

from msgspec import Struct

from publisher.assembly.approach import parted_approach
from publisher.assembly.bodies import bodies_of, box, carried, joined, taken_up, with_bodies
from publisher.assembly.cavity import alike, lengths, reference_facet
from publisher.assembly.change import Approach, Change, finding, not_yet
from publisher.assembly.kit import Kit
from publisher.assembly.layering import both_ways
from publisher.assembly.targets import panel_name, target_bodies
from publisher.assembly.travel import NOTHING, travel
from publisher.assembly.types import Body, Bond, FacetId, MoveMotion, State
from publisher.assembly.walls import SIDES, along_a_side, flaps_between, folded, glued
from publisher.diagnostics import Diagnostic
from publisher.geometry.space import Matrix, Pose, Vector, add, lift, moved, scaled
from publisher.model.types import Action, Panel, Piece, Target
from publisher.units import both

CLEARANCE_MM = 10.0
HELD_MM = 3.0
FIT_MM = 0.05
_MOST_OPEN = 2


class Room(Struct, frozen=True):
    """What is free between a panel and the paper that lies on it.

    ``x0`` to ``y1`` in the panel's flat coordinates (mm), glue taken off; ``open`` are the
    sides that nothing closes. ``front`` is the facet of the panel, ``back`` the other one,
    ``side`` the face of the panel towards it. ``flaps`` are folded in from ``back`` and glued to
    the panel: they lie on the panel's side of what is in the pocket.
    """

    front: FacetId
    back: FacetId
    side: int
    x0: float
    y0: float
    x1: float
    y1: float
    open: tuple[str, ...]
    flaps: tuple[FacetId, ...] = ()


def into_pocket(kit: Kit, state: State, action: Action) -> Change:
    """Carry the subject in from the open side as far as it goes."""
    holders = [b for t in action.objects for b in target_bodies(state, t)]
    ours = [b for t in action.subjects for b in target_bodies(state, t)]
    if len(holders) != 1 or len(ours) != 1 or action.subjects[0].kind not in ("piece", "object"):
        return Change(state, state, findings=(not_yet(action, "Sliding this in there"),))
    start = taken_up(kit, state, [*holders, *ours])
    room = room_behind(kit, start, holders[0], action.objects[0])
    if room is None:
        name = panel_name(action.objects[0])
        note = f"Nothing lies on {name} that holds to it, so there is no pocket yet."
        return Change(start, start, findings=(not_yet(action, f"Sliding into {name}", note),))
    body = start.body(ours[0])
    frame = start.body(room.front[0]).facet_pose(room.front[1])
    turn, size, spare = _turned(kit, body, frame, room)
    pose = frame.after(moved(_middle(room, size))).after(Pose(turn))
    own = body.facet_pose(reference_facet(kit, body))
    inner = _flat_middle(kit, body)
    motion = pose.after(moved(scaled(inner, -1.0))).after(own.inverse())
    group = joined(start, [body.id])
    end = with_bodies(start, [carried(b, motion) for b in bodies_of(start, group)])
    away = scaled(frame.turn(out_of(room)), length_in(room, size) + CLEARANCE_MM)
    facet = reference_facet(kit, body)
    motions = travel(kit, start, end, group, body.id, away, "slide")
    if not state.body(body.id).placed:
        # It is taken up where its way in begins, and held over what may lie there.
        away = add(away, scaled(frame.normal, -room.side * HELD_MM))
        start = with_bodies(start, [carried(b, moved(away)) for b in bodies_of(end, group)])
        motions = (MoveMotion(group, (away, NOTHING), "slide"),)
    return Change(
        start,
        end,
        motions,
        bonds=(Bond((body.id, facet), room.front, "tuck", ""),),
        residual_mm=max(0.0, -spare),
        findings=_tight(kit, action, body, spare),
        approach=between(end, group, room),
    )


def _tight(kit: Kit, action: Action, body: Body, spare: float) -> tuple[Diagnostic, ...]:
    if spare >= -FIT_MM:
        return ()
    lacking = both(-spare, kind="thin", first=kit.pattern.meta.first_unit)
    text = f"{body.piece} does not go into {panel_name(action.objects[0])}: {lacking} is missing"
    return (finding("no-way-in", action, text, None, (("missing_mm", -spare),)),)


# ---------------------------------------------------------------- the room


def room_behind(kit: Kit, state: State, body_id: str, target: Target) -> Room | None:
    """The pocket that a panel makes with the paper on it to which it holds."""
    body = state.body(body_id)
    piece = kit.pieces[body.piece]
    panel = next((p for p in piece.panels if p.name == panel_name(target)), None)
    if panel is None:
        return None
    facet = kit.facets_of(piece.name, panel.name)[0]
    front = (body_id, facet)
    sides = both_ways(state)
    rooms = [
        room
        for (one, other), side in sorted(sides.items())
        if one == front
        for room in (_room(kit, state, piece, panel, front, other, side),)
        if room is not None and 0 < len(room.open) <= _MOST_OPEN
    ]
    return max(rooms, key=lambda r: (len(r.open) < _MOST_OPEN, _area(r)), default=None)


def pocket_of(kit: Kit, state: State, body: Body) -> Target | None:
    """The panel that makes the pocket of a piece: of several the one that is closed on most
    sides, of those the smallest."""
    piece = kit.pieces[body.piece]
    found = []
    for panel in piece.panels:
        target = Target("panel", piece.name, panel.name, body.copy)
        room = room_behind(kit, state, body.id, target)
        if room is not None:
            x0, y0, x1, y1 = panel.bounds
            size = round((x1 - x0) * (y1 - y0), 6)
            found.append((len(room.open), size, panel.name, target))
    return min(found)[-1] if found else None


def _area(room: Room) -> float:
    return round((room.x1 - room.x0) * (room.y1 - room.y0), 6)


def _room(
    kit: Kit,
    state: State,
    piece: Piece,
    panel: Panel,
    front: FacetId,
    back: FacetId,
    side: int,
) -> Room | None:
    x0, y0, x1, y1 = panel.bounds
    ends = {"left": x0, "top": y0, "right": x1, "bottom": y1}
    shut = {n: ends[n] for n in folded(piece, front[1], dict(state.body(front[0]).angles), panel)}
    flaps = tuple(flaps_between(kit, state, front, back, side))
    walls = [along_a_side(glue, panel.bounds) for glue in glued(kit, state, front, back)]
    if None in walls:
        return None
    walls += [along_a_side(fold, panel.bounds) for _, fold in flaps]
    for name, at in filter(None, walls):
        inwards = max if name in ("left", "top") else min
        shut[name] = inwards(shut.get(name, at), at)
    if not shut:
        return None
    free = {**ends, **shut}
    is_open = tuple(name for name in SIDES if name not in shut)
    edges = (free["left"], free["top"], free["right"], free["bottom"])
    return Room(front, back, side, *edges, is_open, tuple(dict.fromkeys(f for f, _ in flaps)))


# ---------------------------------------------------------------- the content in it


def _flat_middle(kit: Kit, body: Body) -> Vector:
    """The middle of a content in the frame of its reference facet, in that facet's plane where
    it is a sheet, else half its thickness off it."""
    least, greatest = box(kit, [body], seen_from=body.facet_pose(reference_facet(kit, body)))
    x, y, z = ((a + b) / 2.0 for a, b in zip(least, greatest, strict=True))
    return (x, y, z)


def _turned(kit: Kit, body: Body, frame: Pose, room: Room) -> tuple[Matrix, Vector, float]:
    """The turn (in the panel's frame) in which the content goes in with the least turning, its
    size then, and what is free across the way in. A pocket is a flat tube: what is put in takes
    its own thickness off the width, and off the length at a closed end."""
    own = body.facet_pose(reference_facet(kit, body))
    least, greatest = box(kit, [body], calipers=True, seen_from=own)
    size = lengths((least, greatest))
    now = frame.inverse().after(own).rotation
    tries = []
    for turn in flat_turns():
        across = size if abs(turn[0][0]) > 0.5 else (size[1], size[0], size[2])
        spare = _spare(room, across)
        tries.append((spare >= -FIT_MM, alike(turn, now), round(spare, 6), turn, across))
    best = max(tries, key=lambda t: (t[0], t[1] if t[0] else t[2]))
    return best[3], best[4], best[2]


def _spare(room: Room, size: Vector) -> float:
    wide, high, deep = room.x1 - room.x0, room.y1 - room.y0, size[2]
    spares = [1e9]
    if not {"left", "right"} & set(room.open):
        spares.append(wide - size[0] - deep)
    if not {"top", "bottom"} & set(room.open):
        spares.append(high - size[1] - deep)
    return min(spares)


def flat_turns() -> tuple[Matrix, ...]:
    """The eight ways in which a sheet lies along a panel: both faces, four ways round."""
    found: list[Matrix] = []
    for face in (1.0, -1.0):
        for c, s in ((1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0)):
            found.append(((c, -s * face, 0.0), (s, c * face, 0.0), (0.0, 0.0, face)))
    return tuple(found)


def _middle(room: Room, size: Vector) -> Vector:
    """Where the content's middle comes to lie in the panel's frame: in the middle across, at
    the closed end along, off it by the curve that its thickness makes there."""
    x, y = (room.x0 + room.x1) / 2.0, (room.y0 + room.y1) / 2.0
    half = size[2] / 2.0
    if "top" in room.open and "bottom" not in room.open:
        y = room.y1 - size[1] / 2.0 - half
    elif "bottom" in room.open and "top" not in room.open:
        y = room.y0 + size[1] / 2.0 + half
    if "left" in room.open and "right" not in room.open:
        x = room.x1 - size[0] / 2.0 - half
    elif "right" in room.open and "left" not in room.open:
        x = room.x0 + size[0] / 2.0 + half
    return lift((x, y))


def out_of(room: Room) -> Vector:
    """The way out in the panel's frame: by the top or bottom before the sides."""
    ways = {"top": (0.0, 1.0, 0.0), "bottom": (0.0, -1.0, 0.0)}
    ways |= {"right": (1.0, 0.0, 0.0), "left": (-1.0, 0.0, 0.0)}
    return next(way for name, way in ways.items() if name in room.open)


def length_in(room: Room, size: Vector) -> float:
    """How far the content goes along the way in."""
    x, y, _ = out_of(room)
    return (
        max(abs(x) * size[0], abs(y) * size[1], 1.0)
        + abs(x * (room.x1 - room.x0))
        + abs(y * (room.y1 - room.y0))
    )


def between(end: State, group: Sequence[str], room: Room) -> Approach:
    """What came in lies on the panel's side towards the other paper, and all that lies beyond
    the panel lies beyond it too."""
    front = end.body(room.front[0]).facet_pose(room.front[1])
    towards = scaled(front.normal, float(room.side))
    sides = both_ways(end)

    def away(other: FacetId) -> Vector:
        ours = other == room.front or other in room.flaps
        over = not ours and sides.get((room.front, other), room.side) == room.side
        return scaled(towards, -1.0 if over else 1.0)

    return parted_approach(end, group, away)
