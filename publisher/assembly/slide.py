"""``slide`` and ``lay``: a body is carried to where it fits, along the way that is open."""

from __future__ import annotations

import math
from collections.abc import Sequence

from msgspec.structs import replace

from publisher.assembly.approach import move_approach, parted_approach
from publisher.assembly.bodies import (
    bodies_of,
    box,
    carried,
    joined,
    laid_flat,
    middle,
    taken_up,
    with_bodies,
)
from publisher.assembly.cavity import (
    FIT_MM,
    Cavity,
    alike,
    cavity,
    free,
    inner_side,
    lengths,
    outside_offset,
    reference_facet,
    square_turns,
    standing,
    stands_inside,
    turned_lengths,
)
from publisher.assembly.change import Approach, Change, finding, not_yet
from publisher.assembly.interlock import interlock
from publisher.assembly.kit import Kit
from publisher.assembly.pocket import into_pocket, pocket_of
from publisher.assembly.targets import target_bodies
from publisher.assembly.thread import is_threading, thread
from publisher.assembly.travel import NOTHING, hover, travel
from publisher.assembly.types import Body, FacetId, MoveMotion, State
from publisher.diagnostics import Diagnostic
from publisher.geometry.space import Matrix, Pose, Vector, add, dot, moved, norm, scaled, sub
from publisher.model.types import Action, BandOf, Target
from publisher.units import both

CLEARANCE_MM = 10.0
"""Free between a slid-out part and the opening it goes into; our own choice, for the eye."""

SHEET_MM = 2.0
"""What is thinner lies like a sheet of paper; our own choice."""

_MIDDLE_MM = 0.5
"""What runs through the middle of a room is on no side of it."""

_INTO = ("into", "through", "in")
_OVER = ("over", "around", "on")


def slide(kit: Kit, state: State, action: Action) -> Change:
    """``A into B``: A moves into the room of B. ``A over B``: A moves so that B is in its
    room."""
    targets = (*action.subjects, *action.objects)
    if action.objects and all(t.kind == "opening" for t in targets):
        return interlock(kit, state, action)
    if is_threading(action):
        return thread(kit, state, action)
    if action.relation in _INTO and any(t.kind == "panel" for t in action.objects):
        return into_pocket(kit, state, action)
    if any(t.kind not in ("piece", "made", "object") for t in targets):
        return Change(state, state, findings=(not_yet(action, "Sliding a part of a piece"),))
    ours = _bodies(state, action.subjects)
    theirs = _bodies(state, action.objects)
    if not ours or not theirs or action.relation not in (*_INTO, *_OVER):
        return Change(state, state, findings=(not_yet(action, "Sliding this"),))
    start = taken_up(kit, state, [*theirs, *ours])
    outer, inner = (theirs, ours) if action.relation in _INTO else (ours, theirs)
    holder = start.body(outer[0])
    room = cavity(kit, holder)
    pocket = pocket_of(kit, start, holder) if room is None and action.relation in _INTO else None
    if pocket is not None:
        return into_pocket(kit, state, replace(action, objects=(pocket,)))
    if room is None:
        note = f"{holder.piece} encloses no room as it is folded now."
        return Change(start, start, findings=(not_yet(action, "Sliding this", note),))
    content = bodies_of(start, joined(start, inner))
    mover = joined(start, ours)
    if stands_inside(kit, room, content):
        return _drawn_out(kit, start, mover, room, content, outwards=action.relation in _INTO)
    return _carried_in(kit, start, action, room, holder, start.body(inner[0]), mover)


def _bodies(state: State, targets: Sequence[Target]) -> list[str]:
    return [b for t in targets for b in target_bodies(state, t)]


def _length(kit: Kit, room: Cavity, content: Sequence[Body]) -> float:
    return lengths(box(kit, content, calipers=True, seen_from=room.frame))[room.axis]


def best_way(room: Cavity, sign: float) -> int:
    """Of the open ends the one that the mover uses: to the right or near side if it can be.

    ``sign`` is +1 when the content moves, -1 when what holds it moves.
    """

    def seen(way: int) -> float:
        ahead = scaled(room.direction(way), sign)
        return round(dot(ahead, (1.0, -1.0, 0.0)), 6)

    return max(room.ways, key=seen)


def _drawn_out(
    kit: Kit,
    state: State,
    mover: tuple[str, ...],
    room: Cavity,
    content: Sequence[Body],
    outwards: bool,
) -> Change:
    """What is inside already: the action starts with it drawn out, and ends where it was."""
    sign = 1.0 if outwards else -1.0
    length = _length(kit, room, content)
    way = best_way(room, sign)
    away = scaled(outside_offset(room, way, length, CLEARANCE_MM), sign)
    out = moved(away)
    start = with_bodies(state, [carried(b, out) for b in bodies_of(state, mover)])
    motion = MoveMotion(mover, (away, NOTHING), "slide")
    approach = inwards(state, mover, room, away, outwards)
    return Change(start, state, (motion,), approach=approach)


def _carried_in(
    kit: Kit,
    start: State,
    action: Action,
    room: Cavity,
    holder: Body,
    main: Body,
    mover: tuple[str, ...],
) -> Change:
    """Carry the mover so that ``main``, with all that holds to it, stands in the room."""
    content = bodies_of(start, joined(start, [main.id]))
    frame = main.facet_pose(reference_facet(kit, main))
    size = box(kit, content, calipers=True, seen_from=frame)
    turn = _best_turn(kit, room, holder, main, frame, size, action)
    spare = free(room, turn, size)
    inside = room.frame.after(standing(room, turn, size))
    into = action.relation in _INTO
    motion = inside.after(frame.inverse()) if into else frame.after(inside.inverse())
    end = with_bodies(start, [carried(b, motion) for b in bodies_of(start, mover)])
    long = turned_lengths(turn, lengths(size))[room.axis]
    sign = 1.0 if into else -1.0
    # The way in belongs to what holds: when that moves, so does its open end.
    there = room if into else replace(room, frame=motion.after(room.frame))
    away = scaled(outside_offset(there, best_way(there, sign), long, CLEARANCE_MM), sign)
    body = main.id if into else holder.id
    return Change(
        start,
        end,
        travel(kit, start, end, mover, body, away, "slide"),
        residual_mm=max(0.0, -spare),
        findings=_tight(kit, action, holder, main, spare),
        approach=inwards(end, mover, there, away, into),
    )


def inwards(
    end: State, mover: Sequence[str], room: Cavity, away: Vector, content: bool
) -> Approach:
    """The mover as it comes along the way in: what is in the room lies on the inner side of all
    that bounds it, of flaps along its walls too. ``content``: that is what moves."""
    corners = zip(room.least, room.greatest, strict=True)
    x, y, z = ((a + b) / 2.0 for a, b in corners)
    centre = room.frame.apply((x, y, z))

    def offset(still: FacetId) -> Vector:
        pose = end.body(still[0]).facet_pose(still[1])
        side = dot(pose.normal, sub(centre, pose.shift))
        off = scaled(pose.normal, math.copysign(1.0, side) if abs(side) > _MIDDLE_MM else 0.0)
        # What holds comes from beyond each face of the content.
        return add(away, off if content else scaled(off, -1.0))

    return parted_approach(end, mover, offset)


def _best_turn(
    kit: Kit,
    room: Cavity,
    holder: Body,
    main: Body,
    frame: Pose,
    size: tuple[Vector, Vector],
    action: Action,
) -> Matrix:
    """The square turn (in the room's frame) in which the content goes in with the least
    turning; where it goes in by none, the one with which it is least too large."""
    now = room.frame.inverse().after(frame).rotation
    turns = list(square_turns())
    band = kit.pieces[holder.piece].derived
    if isinstance(band, BandOf) and band.piece == main.piece:
        side = float(inner_side(kit, main))
        turns = [t for t in turns if abs(t[0][0]) > 0.5 and t[2][2] * side > 0.5]
    elif len(room.ways) == 1 and (main.piece in kit.solid or _is_sheet(size)):
        # What is put into a tray lies in it; it stands on its edge only where it must.
        lying = [t for t in turns if abs(t[room.axis][2]) > 0.5]
        long = room.greatest[room.axis] - room.least[room.axis]
        upright = [
            t
            for t in turns
            if free(room, t, size) >= -FIT_MM
            and turned_lengths(t, lengths(size))[room.axis] <= long + FIT_MM
        ]
        lying_fits = any(free(room, t, size) >= -FIT_MM for t in lying)
        turns = lying if lying_fits or not upright else upright
    elif action.relation in _OVER and len(room.ways) == 1 and cavity(kit, main) is not None:
        # A lid meets a tray with its open side: both openings look at each other.
        theirs = cavity(kit, main)
        axis, way = (2, inner_side(kit, main))
        if theirs is not None and len(theirs.ways) == 1:
            axis, way = theirs.axis, theirs.ways[0]
        side = float(way * room.ways[0])
        turns = [t for t in turns if t[room.axis][axis] * side < -0.5]
    fitting = [t for t in turns if free(room, t, size) >= -FIT_MM]
    if fitting:
        return max(fitting, key=lambda t: alike(t, now))
    return max(turns, key=lambda t: (round(free(room, t, size), 6), alike(t, now)))


def _is_sheet(size: tuple[Vector, Vector]) -> bool:
    across = lengths(size)
    return across[2] <= SHEET_MM < min(across[0], across[1])


def _tight(
    kit: Kit, action: Action, holder: Body, main: Body, spare: float
) -> tuple[Diagnostic, ...]:
    if spare >= -FIT_MM:
        return ()
    lacking = both(-spare, kind="thin", first=kit.pattern.meta.first_unit)
    text = (
        f"{main.piece} has no way into {holder.piece} as they are folded now: {lacking} is missing"
    )
    return (finding("no-way-in", action, text, None, (("missing_mm", -spare),)),)


def lay(kit: Kit, state: State, action: Action) -> Change:
    """``lay A``: flat on the table. ``lay A on B``: on top of B, middle on middle."""
    ours = _bodies(state, action.subjects)
    under = _bodies(state, action.objects)
    if not ours:
        return Change(state, state, findings=(not_yet(action, "Laying this"),))
    if not under:
        start = taken_up(kit, state, ours)
        return Change(start, start)
    if action.relation not in ("on", "over", "to", "in", "into"):
        return Change(state, state, findings=(not_yet(action, "Laying this there"),))
    start = taken_up(kit, state, under)
    lead = start.body(ours[0])
    waiting = not lead.placed
    if waiting:
        lead = laid_flat(kit, start, lead)
    before = with_bodies(start, [lead])
    mover = joined(before, ours)
    bottom = box(kit, bodies_of(before, mover), calipers=True)
    top = box(kit, bodies_of(before, joined(before, under)), calipers=True)
    here, there = middle(bottom), middle(top)
    shift = (there[0] - here[0], there[1] - here[1], top[1][2] - bottom[0][2])
    end = with_bodies(before, [carried(b, moved(shift)) for b in bodies_of(before, mover)])
    away = hover(kit, end, mover, (0.0, 0.0, 1.0))
    if waiting or norm(sub(shift, NOTHING)) < 1e-9:
        hovering = [carried(b, moved(away)) for b in bodies_of(end, mover)]
        start = with_bodies(start, hovering)
        motions: tuple[MoveMotion, ...] = (MoveMotion(mover, (away, NOTHING), "lay"),)
        return Change(start, end, motions, approach=move_approach(end, mover, away))
    moves = travel(kit, before, end, mover, lead.id, away, "lay")
    return Change(before, end, moves, approach=move_approach(end, mover, away))
