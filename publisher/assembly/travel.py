"""How bodies get from where they are to where they shall be: a turn, then a path."""

from __future__ import annotations

import math
from collections.abc import Sequence

from publisher.assembly.bodies import bodies_of, box, middle
from publisher.assembly.kit import Kit
from publisher.assembly.types import Motion, MoveMotion, State, TurnMotion
from publisher.geometry.space import (
    Matrix,
    Pose,
    Vector,
    add,
    dot,
    norm,
    scaled,
    sub,
    unit,
)

NOTHING: Vector = (0.0, 0.0, 0.0)
CLEAR_MM = 20.0
"""How far a part that comes in stands clear of where it goes, besides half its own size. Our
own choice, for the eye."""


def rotation_between(first: Pose, second: Pose) -> Pose:
    """The rotation that carries the first pose's directions into the second's."""
    return Pose(second.rotation).after(Pose(first.rotation).inverse())


def axis_and_angle(rotation: Matrix) -> tuple[Vector, float]:
    """The axis (unit) and angle in degrees, 0 to 180, of a rotation; no turn: (z, 0)."""
    (a, b, c), (d, e, f), (g, h, i) = rotation
    cosine = max(-1.0, min(1.0, (a + e + i - 1.0) / 2.0))
    skew = (h - f, c - g, d - b)
    sine = norm(skew) / 2.0
    angle = math.degrees(math.atan2(sine, cosine))
    if angle < 1e-6:
        return (0.0, 0.0, 1.0), 0.0
    if sine > 1e-6:
        return unit(skew), angle
    # Half a turn: R = 2 n n^T - 1, so the longest column of R + 1 is along n. Both ways round are
    # one: taken is that by which the near edge rises and goes over, as `turn over` does.
    columns = ((a + 1.0, d, g), (b, e + 1.0, h), (c, f, i + 1.0))
    along = unit(max(columns, key=lambda column: round(norm(column), 9)))
    lead = next(part for part in along if abs(part) > 1e-6)
    return scaled(along, -1.0 if lead > 0.0 else 1.0), angle


def travel(
    kit: Kit, before: State, end: State, bodies: Sequence[str], main: str, over: Vector, manner: str
) -> tuple[Motion, ...]:
    """The motions that carry placed bodies to their end: a turn about the middle of ``main``
    where its direction changes, then along a path by way of ``over`` (offset from the end)."""
    motions: list[Motion] = []
    old, new = before.body(main), end.body(main)
    start = middle(box(kit, [old]))
    axis, angle = axis_and_angle(rotation_between(old.pose, new.pose).rotation)
    if angle:
        motions.append(TurnMotion(tuple(bodies), start, axis, angle))
    away = sub(start, middle(box(kit, [new])))
    motions.append(MoveMotion(tuple(bodies), _path(away, over), manner))
    return tuple(motions)


def _path(away: Vector, over: Vector) -> tuple[Vector, ...]:
    """From ``away`` along the direction of ``over`` until level with it, across, then in."""
    if norm(over) < 1e-9:
        return (away, NOTHING)
    ahead = unit(over)
    lifted = add(away, scaled(ahead, max(0.0, norm(over) - dot(away, ahead))))
    path = [away]
    for point in (lifted, over, NOTHING):
        if math.dist(point, path[-1]) > 1e-6:
            path.append(point)
    return tuple(path) if len(path) > 1 else (away, NOTHING)


def hover(kit: Kit, end: State, bodies: Sequence[str], towards: Vector) -> Vector:
    """How far off a part is shown before it comes in, along ``towards``."""
    least, greatest = box(kit, bodies_of(end, bodies))
    sizes = sorted(b - a for a, b in zip(least, greatest, strict=True))
    return scaled(unit(towards), CLEAR_MM + sizes[1] / 2.0)
