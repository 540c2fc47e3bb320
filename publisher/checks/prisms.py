"""Tubes with equal sides all round, and what goes into them or over them.

Measured is the distance between opposite walls, twice that from the middle to a wall: what has as
many sides needs that much, anything else the circle round it.
"""

from __future__ import annotations

import math

from msgspec import Struct

from publisher.assembly import closed_size
from publisher.checks.claims import Measured, said, verdict
from publisher.checks.context import Context
from publisher.checks.types import CheckResult
from publisher.geometry.measure import path_bounds
from publisher.geometry.path import Line
from publisher.geometry.space import Vector, cross, dot, lift, norm, scaled, sub, unit
from publisher.model.folding import closed_angles, facet_poses
from publisher.model.types import Claim, Piece, Target

_SAME_MM = 0.01
_SAME_DEG = 0.01
_SQUARE = 4


class Section(Struct, frozen=True):
    """A regular polygon: how many sides, and how far it is from wall to wall (mm). ``lost_mm``
    is what a seam glued inside takes of that."""

    sides: int
    across_mm: float
    lost_mm: float = 0.0


def tube(piece: Piece) -> Section | None:
    """The section of a strip that closes to a tube with equal sides; None of any other piece,
    and of one with four sides, which is measured as a box."""
    walls = [f for f in piece.facets if piece.panel(f.panel).kind == "panel"]
    names = {f.name for f in walls}
    own = [h for h in piece.hinges if h.parent in names and h.child in names]
    closing = closed_angles(piece)
    turns = [closing[h.fold] for h in own]
    sides = len(walls)
    if sides < 3 or sides == _SQUARE or len(own) != sides - 1:
        return None
    if max(abs(turn * sides - 360.0) for turn in turns) > _SAME_DEG * sides:
        return None
    poses = facet_poses(piece, closing)
    first = own[0]
    along = unit(sub(*(poses[first.parent].apply(lift(p)) for p in (first.end, first.start))))
    middles: list[Vector] = []
    for facet in walls:
        x0, y0, x1, y1 = path_bounds(facet.region.outer)
        at = poses[facet.name].apply(lift(((x0 + x1) / 2.0, (y0 + y1) / 2.0)))
        middles.append(sub(at, scaled(along, dot(at, along))))
    heart = scaled(
        (sum(m[0] for m in middles), sum(m[1] for m in middles), sum(m[2] for m in middles)),
        1.0 / sides,
    )
    away = [norm(sub(m, heart)) for m in middles]
    if max(away) - min(away) > _SAME_MM:
        return None
    tabs = {p.name for p in piece.panels if p.kind == "tab"}
    seams = [
        h
        for h in piece.hinges
        if piece.facet(h.child).panel in tabs
        and h.parent in names
        and _upright(piece, h.child, along)
    ]
    return Section(sides, 2.0 * min(away), piece.stock.caliper_mm if seams else 0.0)


def _upright(piece: Piece, facet: str, along: Vector) -> bool:
    """Whether a tab closes to lie against a wall, and not across the end."""
    normal = facet_poses(piece, closed_angles(piece))[facet].normal
    return norm(cross(normal, along)) > 0.5


def plate(piece: Piece) -> Section | None:
    """A flat piece that is a regular polygon."""
    edges = piece.outline.outer.segments
    if len(piece.facets) != 1 or not all(isinstance(e, Line) for e in edges):
        return None
    points = [e.start for e in edges]
    x, y = (sum(p[i] for p in points) / len(points) for i in (0, 1))
    round_it = [math.hypot(p[0] - x, p[1] - y) for p in points]
    lengths = [math.dist(e.start, e.end) for e in edges]
    if max(round_it) - min(round_it) > _SAME_MM or max(lengths) - min(lengths) > _SAME_MM:
        return None
    return Section(len(points), 2.0 * round_it[0] * math.cos(math.pi / len(points)))


def needed_mm(context: Context, content: Target, sides: int) -> float:
    """How far from wall to wall a tube with so many sides must be for this to go in."""
    size = content.size_mm
    if size is None:
        piece = context.pattern.piece(content.piece)
        found = tube(piece)
        if found is not None and found.sides == sides:
            return found.across_mm + 2.0 * piece.stock.caliper_mm
        found = plate(piece)
        if found is not None and found.sides == sides:
            return found.across_mm
        size = closed_size(piece)
    return math.hypot(size[0], size[1])


def fits_tube(
    context: Context, claim: Claim, code: str, content: Target, holder: Piece
) -> CheckResult | None:
    """The verdict on what goes into a tube, or over which one is slid; None where the holder
    is no tube of that kind."""
    room = tube(holder)
    if room is None:
        return None
    needed = needed_mm(context, content, room.sides)
    free = room.across_mm - room.lost_mm
    numbers = (("from_wall_to_wall_mm", free), ("needed_mm", needed))
    over = claim.verb == "slides on"
    words = f"{said(claim.subject)} {claim.verb} {said(claim.object or claim.subject)}"
    missing = "is too tight on" if over else "does not go into"
    return verdict(
        context,
        claim,
        code,
        Measured("from wall to wall", free - needed, numbers),
        f"{words} with {{}} to spare from wall to wall",
        f"{said(claim.subject)} {missing} {said(claim.object or claim.subject)}: {{}} is missing",
        tolerance_mm=1e-9,
    )
