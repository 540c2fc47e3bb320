"""``turn over`` and ``turn``: a body, with all that holds to it, turned on the table."""

from __future__ import annotations

import math

from publisher.assembly.bodies import bodies_of, box, carried, middle, taken_up, with_bodies
from publisher.assembly.change import Change, finding, not_yet
from publisher.assembly.kit import Kit
from publisher.assembly.targets import acted_on, target_bodies, whole_bodies
from publisher.assembly.types import State, TurnMotion
from publisher.geometry.space import Vector, scaled, turned
from publisher.model.types import Action
from publisher.units import angle as said

# Across the view, so that the near edge rises and goes over to the far side.
_ACROSS: Vector = (-1.0, 0.0, 0.0)
_UPRIGHT: Vector = (0.0, 0.0, 1.0)
_LEAST_DEG = 0.01


def turn(kit: Kit, state: State, action: Action) -> Change:
    """``over``: half a turn (or as said) about a level axis across the view, to rest on the
    table again. Else a turn on the table, clockwise as seen from above, half a turn if
    nothing is said."""
    targets = acted_on(action)
    start = taken_up(kit, state, [b for t in targets for b in target_bodies(state, t)])
    group = whole_bodies(start, targets)
    if not group:
        return Change(start, start, findings=(not_yet(action, "Turning this"),))
    bodies = bodies_of(start, group)
    centre = middle(box(kit, bodies))
    angle = 180.0 if action.angle_deg is None else action.angle_deg
    if abs(math.remainder(angle, 360.0)) < _LEAST_DEG:
        text = f"turned by {said(angle)} it lies as it lay"
        return Change(start, start, findings=(finding("wrong-angle", action, text),))
    if action.relation == "over":
        spin = turned(centre, _ACROSS, angle)
        low = box(kit, [carried(b, spin) for b in bodies])[0][2]
        origin, axis = _resting_axis(centre, -low, angle), _ACROSS
    else:
        origin, axis, angle = centre, _UPRIGHT, -angle
    # More than half round one way is less than that the other way, and done so.
    short = math.remainder(angle, 360.0)
    if abs(angle) > 180.0:
        angle, axis = abs(short), scaled(axis, math.copysign(1.0, short))
    spin = turned(origin, axis, angle)
    end = with_bodies(start, [carried(b, spin) for b in bodies])
    return Change(start, end, (TurnMotion(group, origin, axis, angle),))


def _resting_axis(centre: Vector, lift_mm: float, angle_deg: float) -> Vector:
    """The axis, parallel to ``_ACROSS``, about which the same turn also lifts by ``lift_mm``.

    With R the turn in the plane across the axis and c its centre, a turn about o adds
    (1 - R)(o - c); (1 - R)^-1 = 1/2 [[1, -cot], [cot, 1]] with cot of half the angle.
    """
    half = math.radians(angle_deg) / 2.0
    cot = math.cos(half) / math.sin(half)
    # Seen along the axis the turn runs from -y to z: (u, v) = (-y, z).
    u, v = -cot * lift_mm / 2.0, lift_mm / 2.0
    return (centre[0], centre[1] - u, centre[2] + v)
