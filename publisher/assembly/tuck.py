"""``tuck``: a card goes under the tongues of slits or under a band, a flap behind a panel."""

from __future__ import annotations

import math
from collections.abc import Sequence

from msgspec import Struct

from publisher.assembly.approach import parted_approach
from publisher.assembly.bodies import bodies_of, box, carried, joined, taken_up, with_bodies
from publisher.assembly.cavity import alike, lengths, reference_facet
from publisher.assembly.change import Approach, Change, finding, not_yet
from publisher.assembly.flap import tuck_flap
from publisher.assembly.kit import Kit
from publisher.assembly.pocket import flat_turns
from publisher.assembly.rigid import refolded
from publisher.assembly.slide import CLEARANCE_MM, SHEET_MM
from publisher.assembly.targets import target_bodies
from publisher.assembly.tongues import LIFTED_DEG, RAISED_MM, Tongue, foot_name, slit_of, tongue_of
from publisher.assembly.travel import NOTHING, hover, travel
from publisher.assembly.types import Body, Bond, FacetId, Motion, MoveMotion, State
from publisher.diagnostics import Diagnostic
from publisher.geometry.measure import path_bounds
from publisher.geometry.path import Point
from publisher.geometry.space import Matrix, Pose, Vector, add, lift, moved, norm, scaled
from publisher.model.types import Action, BandOf
from publisher.units import both

FIT_MM = 0.05
_SQUARE = 0.999
_ENDLESS = math.inf


class Gate(Struct, frozen=True):
    """Where something can be tucked in. ``over`` are the facets that it lies under; ``base``
    the one whose flat coordinates count; ``side`` is on which face of the base it lies. Its
    near edges stop at ``least`` and ``greatest`` (x, y), and where nothing stops it its middle
    goes to ``middle``. ``out`` is the way out in flat coordinates (0, 0: lifted off).
    ``deep_mm`` is how thick it may be."""

    base: FacetId
    side: int
    over: tuple[FacetId, ...]
    least: Point
    greatest: Point
    middle: Point
    out: Point
    deep_mm: float


def tuck(kit: Kit, state: State, action: Action) -> Change:
    """Carry the subject under what is named, or fold it in behind that."""
    if not action.objects:
        note = "Say what it goes under, behind or into."
        return Change(state, state, findings=(not_yet(action, "Tucking this", note),))
    if action.subjects[0].kind in ("panel", "fold"):
        return tuck_flap(kit, state, action)
    ours = [b for t in action.subjects for b in target_bodies(state, t)]
    holders = dict.fromkeys(b for t in action.objects for b in target_bodies(state, t))
    if len(ours) != 1 or len(holders) != 1:
        note = "Say which one goes where, each in a line of its own."
        return Change(state, state, findings=(not_yet(action, "Tucking so many", note),))
    start = taken_up(kit, state, [*holders, *ours])
    holder = start.body(next(iter(holders)))
    gate = _tongues(kit, action, holder) or _under_band(kit, holder)
    if gate is None:
        note = "A card is tucked under a tongue (a slit that is half round, square or a vee)."
        return Change(start, start, findings=(not_yet(action, "Tucking this there", note),))
    return _tucked(kit, state, start, action, start.body(ours[0]), gate)


# ---------------------------------------------------------------- where to


def _tongues(kit: Kit, action: Action, holder: Body) -> Gate | None:
    """Under all the tongues that are named, which look along the sides of the paper."""
    piece = kit.pieces[holder.piece]
    found: list[Tongue] = []
    for target in action.objects:
        slit = slit_of(piece, target)
        tongue = tongue_of(slit) if slit is not None else None
        if tongue is None or max(abs(v) for v in tongue.out) < _SQUARE:
            return None
        if tongue.facet not in {f.name for f in piece.facets}:
            return None  # a slit that leaves the paper on its way cuts no tongue out of it
        found.append(tongue)
    feet = {h.parent for h in piece.hinges if h.fold in {foot_name(t.facet) for t in found}}
    if not found or len(feet) != 1:
        return None
    least, greatest, middle = [-_ENDLESS] * 2, [_ENDLESS] * 2, [0.0, 0.0]
    for axis in (0, 1):
        along = [t for t in found if abs(t.out[axis]) > _SQUARE]
        for tongue in along:
            if tongue.out[axis] > 0:
                least[axis] = max(least[axis], tongue.foot[axis])
            else:
                greatest[axis] = min(greatest[axis], tongue.foot[axis])
        across = [t.foot[axis] for t in found if t not in along] or [t.foot[axis] for t in found]
        middle[axis] = sum(across) / len(across)
    out = (sum(t.out[0] for t in found), sum(t.out[1] for t in found))
    return Gate(
        (holder.id, min(feet)),
        1,
        tuple((holder.id, t.facet) for t in found),
        (least[0], least[1]),
        (greatest[0], greatest[1]),
        (middle[0], middle[1]),
        (float(round(out[0])), float(round(out[1]))),
        SHEET_MM,
    )


def _under_band(kit: Kit, holder: Body) -> Gate | None:
    """Between a closed band and what it goes round, on the side that lies up."""
    piece = kit.pieces[holder.piece]
    if not isinstance(piece.derived, BandOf):
        return None
    flat = [f for f in piece.facets if piece.panel(f.panel).kind == "panel"]
    up = max(flat, key=lambda f: round(holder.facet_pose(f.name).normal[2], 6))
    x0, y0, x1, y1 = path_bounds(up.region.outer)
    down = piece.derived.direction == "down"
    ends = ((-_ENDLESS, y0), (_ENDLESS, y1)) if down else ((x0, -_ENDLESS), (x1, _ENDLESS))
    return Gate(
        (holder.id, up.name),
        -1,
        ((holder.id, up.name),),
        *ends,
        ((x0 + x1) / 2.0, (y0 + y1) / 2.0),
        (1.0, 0.0) if down else (0.0, 1.0),
        piece.derived.ease_mm,
    )


# ---------------------------------------------------------------- how


def _tucked(kit: Kit, state: State, start: State, action: Action, body: Body, gate: Gate) -> Change:
    frame = start.body(gate.base[0]).facet_pose(gate.base[1])
    facet = reference_facet(kit, body)
    own = body.facet_pose(facet)
    turn, size = _turned(kit, body, frame, gate)
    x, y = (_place(gate, i, size[i]) for i in (0, 1))
    here = _middle(kit, body, facet)
    pose = frame.after(moved(lift((x, y)))).after(Pose(turn)).after(moved(scaled(here, -1.0)))
    group = joined(start, [body.id])
    motion = pose.after(own.inverse())
    end = with_bodies(start, [carried(b, motion) for b in bodies_of(start, group)])
    way = lift(gate.out)
    if norm(way):
        long = abs(way[0]) * size[0] + abs(way[1]) * size[1]
        away = scaled(frame.turn(way), (long + CLEARANCE_MM) / norm(way))
        if gate.side > 0:  # it comes down over the paper's face, and does not scrape along it
            away = add(away, scaled(frame.normal, RAISED_MM))
    else:
        away = hover(kit, end, group, scaled(frame.normal, float(gate.side)))
    start = _lifted(kit, start, gate)
    motions: tuple[Motion, ...] = travel(kit, start, end, group, body.id, away, "tuck")
    if not state.body(body.id).placed:  # it is taken up where its way in begins
        start = with_bodies(start, [carried(b, moved(away)) for b in bodies_of(end, group)])
        motions = (MoveMotion(group, (away, NOTHING), "tuck"),)
    spare = _spare(gate, size)
    return Change(
        start,
        end,
        motions,
        bonds=tuple(Bond((body.id, facet), over, "tuck", "") for over in gate.over),
        residual_mm=max(0.0, -spare),
        findings=_tight(kit, action, body, spare),
        approach=_between(end, group, gate),
    )


def _turned(kit: Kit, body: Body, frame: Pose, gate: Gate) -> tuple[Matrix, Vector]:
    """The turn in which it goes in with the least turning, and its size then."""
    own = body.facet_pose(reference_facet(kit, body))
    size = lengths(box(kit, [body], calipers=True, seen_from=own))
    flat = lengths(box(kit, [body], seen_from=own))
    now = frame.inverse().after(own).rotation

    def turned(turn: Matrix) -> Vector:
        across = abs(turn[0][0]) > 0.5
        return (flat[0], flat[1], size[2]) if across else (flat[1], flat[0], size[2])

    def rank(turn: Matrix) -> tuple[bool, float]:
        return _spare(gate, turned(turn)) >= -FIT_MM, alike(turn, now)

    best = max(flat_turns(), key=rank)
    return best, turned(best)


def _middle(kit: Kit, body: Body, facet: str) -> Vector:
    x, y, _ = add(*box(kit, [body], seen_from=body.facet_pose(facet)))
    return (x / 2.0, y / 2.0, 0.0)


def _place(gate: Gate, axis: int, size_mm: float) -> float:
    """Where its middle comes to lie along one axis of the flat paper."""
    low, high = gate.least[axis], gate.greatest[axis]
    if math.isinf(low) and math.isinf(high):
        return gate.middle[axis]
    if math.isinf(high):
        return low + size_mm / 2.0
    return high - size_mm / 2.0 if math.isinf(low) else (low + high) / 2.0


def _spare(gate: Gate, size: Vector) -> float:
    """The least that is free, mm: between the feet, and under what it goes."""
    room = [gate.greatest[i] - gate.least[i] - size[i] for i in (0, 1)]
    return min(*room, gate.deep_mm - size[2])


def _lifted(kit: Kit, state: State, gate: Gate) -> State:
    """The tongues lifted a little, as the way in is shown."""
    body = state.body(gate.base[0])
    angles = dict(body.angles)
    feet = {foot_name(facet): LIFTED_DEG for _, facet in gate.over if foot_name(facet) in angles}
    if not feet:
        return state
    return with_bodies(state, [refolded(kit, body, angles | feet, gate.base[1])])


def _tight(kit: Kit, action: Action, body: Body, spare: float) -> tuple[Diagnostic, ...]:
    if spare >= -FIT_MM:
        return ()
    lacking = both(-spare, kind="thin", first=kit.pattern.meta.first_unit)
    what = action.objects[0].part or action.objects[0].piece
    text = f"{body.piece} does not go under {what}: {lacking} is missing"
    return (finding("no-way-in", action, text, None, (("missing_mm", -spare),)),)


def _between(end: State, group: Sequence[str], gate: Gate) -> Approach:
    """What is tucked in lies under what it went under, and on all else there."""
    front = end.body(gate.base[0]).facet_pose(gate.base[1]).normal
    return parted_approach(
        end, group, lambda other: scaled(front, -1.0 if other in gate.over else 1.0)
    )
