"""``slide slot of A into slot of B``: two papers cross, each in the other's slot."""

from __future__ import annotations

import math
from collections.abc import Sequence

from msgspec import Struct

from publisher.assembly.approach import move_approach
from publisher.assembly.bodies import (
    bodies_of,
    box,
    carried,
    joined,
    middle,
    posed,
    taken_up,
    with_bodies,
)
from publisher.assembly.change import Change, finding, not_yet
from publisher.assembly.kit import Kit
from publisher.assembly.targets import target_bodies
from publisher.assembly.travel import NOTHING, travel
from publisher.assembly.types import Body, Bond, Motion, MoveMotion, State
from publisher.diagnostics import Diagnostic
from publisher.geometry.flatten import flattened
from publisher.geometry.path import Point
from publisher.geometry.space import (
    Matrix,
    Pose,
    Vector,
    add,
    cross,
    dot,
    lift,
    moved,
    scaled,
    sub,
)
from publisher.model.types import Action, Edge, Opening, Piece, Target
from publisher.units import both

CLEARANCE_MM = 10.0
"""Free between both before they meet; our own choice, for the eye."""

_ON_EDGE_MM = 1e-6
_LEVEL_MM = 0.05
_UPRIGHT = 1e-6


class Slot(Struct, frozen=True):
    """A cut that is open to an edge. ``mouth`` is its middle on the edge, ``inward`` the way in
    (unit), in the piece's coordinates. ``reach_mm`` is the paper from that edge to the far one;
    ``width_mm`` 0 for a cut that takes no paper away."""

    facet: str
    mouth: Point
    inward: Point
    width_mm: float
    depth_mm: float
    reach_mm: float


def slot_of(kit: Kit, piece: Piece, opening: Opening) -> Slot | None:
    """The slot that a notch or slit makes; None where it is open to no edge."""
    name = opening.panel or piece.panels[0].name
    panel = piece.panel(name)
    points = flattened(opening.path, 0.05)
    for edge in panel.edges:
        on = [p for p in points if _off(edge, p) < _ON_EDGE_MM]
        if not on:
            continue
        mouth = (_mid([p[0] for p in on]), _mid([p[1] for p in on]))
        inward = _inward(edge)
        deep = max(_along(inward, mouth, p) for p in points)
        reach = max(_along(inward, mouth, p) for p in panel.ring)
        wide = opening.width_mm if opening.kind == "notch" else 0.0
        return Slot(kit.facets_of(piece.name, name)[0], mouth, inward, wide, deep, reach)
    return None


def _mid(values: Sequence[float]) -> float:
    return (min(values) + max(values)) / 2.0


def _off(edge: Edge, p: Point) -> float:
    (x, y), (u, v) = edge.start, edge.end
    return abs((u - x) * (p[1] - y) - (v - y) * (p[0] - x)) / math.dist(edge.start, edge.end)


def _inward(edge: Edge) -> Point:
    """Panels are walked clockwise as seen with y down: the paper is on the right hand."""
    (x, y), (u, v) = edge.start, edge.end
    size = math.dist(edge.start, edge.end)
    return (-(v - y) / size, (u - x) / size)


def _along(way: Point, origin: Point, p: Point) -> float:
    return way[0] * (p[0] - origin[0]) + way[1] * (p[1] - origin[1])


# ---------------------------------------------------------------- put together


def interlock(kit: Kit, state: State, action: Action) -> Change:
    """The subject's paper comes down across the object's, slot on slot, until their edges are
    level, or until both slots are at their ends."""
    found = [_slotted(kit, state, t) for t in (*action.subjects, *action.objects)]
    if len(found) != 2 or None in found:
        note = "Say which slot of which piece goes into which, one pair in a line."
        return Change(state, state, findings=(not_yet(action, "Crossing these", note),))
    (ours, slot), (theirs, other) = (f for f in found if f is not None)
    start = taken_up(kit, state, [theirs])
    base = start.body(theirs)
    if not _holds(start, theirs) and abs(base.facet_pose(other.facet).normal[2]) > 0.5:
        base = _stood_up(kit, base, other)
        start = with_bodies(start, [base])
    frame = base.facet_pose(other.facet)
    down = frame.turn(lift(other.inward))
    stop = min(slot.depth_mm + other.depth_mm, _level(slot, other))
    goal = add(frame.apply(lift(other.mouth)), scaled(down, stop))
    body = start.body(ours)
    pose = _crossed(body.facet_pose(slot.facet), slot, down, frame.normal, goal)
    away = scaled(down, -(stop + CLEARANCE_MM))
    before, end, group = _brought(kit, start, body, slot, pose)
    if body.placed:
        motions = travel(kit, start, end, group, ours, away, "slide")
    else:
        start = with_bodies(before, [carried(end.body(ours), moved(away))])
        motions = _one(group, away)
    lacking = _level(slot, other) - stop
    return Change(
        start,
        end,
        motions,
        bonds=(Bond((ours, slot.facet), (theirs, other.facet), "tuck", ""),),
        residual_mm=lacking,
        findings=_faults(kit, action, start, (ours, slot), (theirs, other), lacking),
        approach=move_approach(end, group, away),
    )


def _one(group: tuple[str, ...], away: Vector) -> tuple[Motion, ...]:
    return (MoveMotion(group, (away, NOTHING), "slide"),)


def _slotted(kit: Kit, state: State, target: Target) -> tuple[str, Slot] | None:
    """The one body that a target names, and its slot."""
    bodies = target_bodies(state, target)
    piece = kit.pieces.get(target.piece)
    if len(bodies) != 1 or piece is None:
        return None
    opening = next((o for o in piece.openings if o.name == target.part), None)
    slot = slot_of(kit, piece, opening) if opening is not None else None
    return None if slot is None else (bodies[0], slot)


def _holds(state: State, body: str) -> bool:
    return len(joined(state, [body])) > 1


def _level(slot: Slot, other: Slot) -> float:
    """How far in the mouth is when the edges are level; papers of unequal height go as far as
    their slots let them."""
    if abs(slot.reach_mm - other.reach_mm) > _LEVEL_MM:
        return slot.depth_mm + other.depth_mm
    return slot.reach_mm


def _stood_up(kit: Kit, body: Body, slot: Slot) -> Body:
    """The body upright on the table, its slot open upwards, its front to the viewer."""
    old = body.facet_pose(slot.facet)
    turn = _rotation(slot, (0.0, 0.0, -1.0), (0.0, -1.0, 0.0))
    upright = carried(body, Pose(turn).after(Pose(old.rotation).inverse()))
    was, now = middle(box(kit, [body])), box(kit, [upright])
    here = middle(now)
    return carried(upright, moved((was[0] - here[0], was[1] - here[1], -now[0][2])))


def _rotation(slot: Slot, inward: Vector, normal: Vector) -> Matrix:
    """The rotation that carries the slot's way in and its facet's front to these."""
    ours = (lift(slot.inward), (0.0, 0.0, 1.0))
    sides = cross(ours[1], ours[0]), cross(normal, inward)
    pairs = ((inward, ours[0]), (normal, ours[1]), (sides[1], sides[0]))
    rows = [tuple(sum(to[i] * of[j] for to, of in pairs) for j in range(3)) for i in range(3)]
    return (_vector(rows[0]), _vector(rows[1]), _vector(rows[2]))


def _vector(values: Sequence[float]) -> Vector:
    return (values[0], values[1], values[2])


def _crossed(now: Pose, slot: Slot, down: Vector, front: Vector, goal: Vector) -> Pose:
    """Slot against slot, square to the other paper; of both ways round the one nearer to how
    it lies."""
    across = cross(down, front)
    side = 1.0 if dot(across, now.normal) >= -_UPRIGHT else -1.0
    turn = _rotation(slot, scaled(down, -1.0), scaled(across, side))
    return Pose(turn, sub(goal, Pose(turn).turn(lift(slot.mouth))))


def _brought(
    kit: Kit, start: State, body: Body, slot: Slot, pose: Pose
) -> tuple[State, State, tuple[str, ...]]:
    """The state before, that with the body (and what holds to it) at the pose of its slotted
    facet, and what moved."""
    if not body.placed:
        hung = kit.hang(body.piece, dict(body.angles))[slot.facet]
        there = posed(kit, body, pose.after(hung.inverse()), dict(body.angles))
        return start, with_bodies(start, [there]), (body.id,)
    group = joined(start, [body.id])
    motion = pose.after(body.facet_pose(slot.facet).inverse())
    return start, with_bodies(start, [carried(b, motion) for b in bodies_of(start, group)]), group


def _faults(
    kit: Kit,
    action: Action,
    state: State,
    ours: tuple[str, Slot],
    theirs: tuple[str, Slot],
    lacking: float,
) -> tuple[Diagnostic, ...]:
    """Slots that are too narrow for the other paper, or too short for the edges to be level."""

    def say(mm: float) -> str:
        return both(mm, kind="thin", first=kit.pattern.meta.first_unit)

    names = [kit.pieces[state.body(b).piece].name for b, _ in (ours, theirs)]
    papers = [kit.pieces[name].stock.caliper_mm for name in names]
    found = []
    for (_, slot), name, other, thick in (
        (ours, names[0], names[1], papers[1]),
        (theirs, names[1], names[0], papers[0]),
    ):
        if 0.0 < slot.width_mm < thick:
            text = (
                f"the slot of {name} is {say(slot.width_mm)} wide, and {other} is"
                f" {say(thick)} thick"
            )
            numbers = (("missing_mm", thick - slot.width_mm),)
            found.append(finding("no-way-in", action, text, None, numbers))
    if lacking > _LEVEL_MM:
        text = f"the slots end before the edges are level: {say(lacking)} is missing"
        way = f"make both slots {say(lacking / 2.0)} deeper"
        numbers = (("missing_mm", lacking),)
        found.append(finding("no-way-in", action, text, None, numbers, ways_out=(way,)))
    return tuple(found)
