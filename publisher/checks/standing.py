"""Sheets that stand on edge in a tray at the end of the steps: what is free at their ends.

A sheet that stands is not limited across its thickness. Along its length it reaches from wall
to wall where it stands: a tab glued inside a wall counts only where the sheet meets it.
"""

from __future__ import annotations

from msgspec import Struct

from publisher.assembly.types import Body
from publisher.checks.context import Context
from publisher.geometry.flatten import flattened
from publisher.geometry.space import Pose, Vector, lift
from publisher.model.types import Piece, Target, Term

_PLANE_MM = 0.05
_AXES = ("across", "down")

Box = tuple[Vector, Vector]


class Ends(Struct, frozen=True):
    """A standing sheet's own direction (0 across, 1 down), what is free along it and over it
    up to the rim, mm, and the sum of the first."""

    axis: int
    spare_mm: float
    over_mm: float
    sum: tuple[Term, ...]


def standing(context: Context, content: Target, holder: Piece) -> tuple[Ends, ...]:
    """One for every sheet of ``content`` if all of them stand in the holder; else none."""
    end = context.story.end
    tray = next((b for b in end.bodies if b.piece == holder.name and b.placed), None)
    if tray is None or content.kind not in ("piece", "made"):
        return ()
    if content.kind == "made":
        ids = dict(end.made).get(content.part or content.piece, ())
        bodies = [b for b in end.bodies if b.id in ids]
    else:
        bodies = [
            b
            for b in end.bodies
            if b.piece == content.piece and content.copy in (0, b.copy) and b.placed
        ]
    found = [_ends(context, tray, holder, body) for body in bodies]
    kept = tuple(e for e in found if e is not None)
    return kept if len(kept) == len(found) else ()


def _ends(context: Context, tray: Body, holder: Piece, body: Body) -> Ends | None:
    piece = (context.story.handled or context.pattern).piece(body.piece)
    if len(piece.facets) != 1:
        return None
    into = tray.facet_pose(holder.facets[0].name).inverse()
    low, high = _box(piece, piece.facets[0].name, into.after(body.facets[0][1]))
    thin = [i for i in (0, 1) if high[i] - low[i] < _PLANE_MM]
    if len(thin) != 1 or high[2] - low[2] < _PLANE_MM:
        return None
    axis = 1 - thin[0]
    walls = [
        (facet.panel, _box(holder, facet.name, into.after(tray.facet_pose(facet.name))))
        for facet in holder.facets[1:]
    ]
    tabs = {p.name for p in holder.panels if p.kind == "tab"}
    met = [
        ((box[0][axis] + box[1][axis]) / 2.0, name in tabs)
        for name, box in walls
        if box[1][axis] - box[0][axis] < _PLANE_MM and _beside(box, (low, high), axis)
    ]
    middle = (low[axis] + high[axis]) / 2.0
    sides = [[m for m in met if (m[0] > middle) is far] for far in (False, True)]
    if not all(sides):
        return None
    room = min(at for at, _ in sides[1]) - max(at for at, _ in sides[0])
    lost = holder.stock.caliper_mm * sum(any(tab for _, tab in side) for side in sides)
    terms = [Term(f"{_AXES[axis]} between the walls", room)]
    if lost:
        terms.append(Term(f"{_AXES[axis]}, taken by glued tabs", -lost))
    rim = min(max(abs(b[0][2]), abs(b[1][2])) for name, b in walls if name not in tabs)
    over = rim - max(abs(low[2]), abs(high[2]))
    return Ends(axis, room - lost - (high[axis] - low[axis]), over, tuple(terms))


def _box(piece: Piece, facet: str, pose: Pose) -> Box:
    outer = piece.facet(facet).region.outer
    points = [pose.apply(lift(p)) for p in flattened(outer, tolerance_mm=0.01)]
    xs, ys, zs = zip(*points, strict=True)
    return (min(xs), min(ys), min(zs)), (max(xs), max(ys), max(zs))


def _beside(wall: Box, sheet: Box, axis: int) -> bool:
    """Whether a wall stands before the end of a sheet that runs along this axis."""
    return all(
        wall[0][i] - _PLANE_MM < sheet[1][i] and sheet[0][i] < wall[1][i] + _PLANE_MM
        for i in range(3)
        if i != axis
    )
