"""Glue between parts that lie on each other already: the picture opens them a little.

A fold on the way from the glue to its partner is turned part of the way back, so that the
glue can be seen, and an arrow shows how it closes. Only a fold is taken whose opening leads
the two papers apart, as the layer order tells.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from msgspec import Struct

from publisher.assembly.types import Body, FacetId, FoldMotion, Frame, Mark, State
from publisher.geometry.measure import path_bounds
from publisher.geometry.space import Pose, Vector, dot, lift, sub
from publisher.model.folding import facet_poses
from publisher.model.types import Hinge, Piece

MOST_OPEN_DEG = 75.0
OPEN_SHARE = 0.75  # of how far the fold is closed
LEAST_FOLDED_DEG = 30.0
_DOWN = 0.2  # of the glue's normal: from 12 degrees below level on


class Opening(Struct, frozen=True):
    """A fold of a body to be turned back, and the facets that move away with it. ``bent_out``: a
    flap beside its partner, only for its glue to be reached; it has no arrow, which would lie on
    the glue."""

    body: str
    fold: str
    opened_deg: float
    closed_deg: float
    side: frozenset[str]
    bent_out: bool = False


def between(piece: Piece, start: str, goal: str) -> list[tuple[Hinge, str]]:
    """The hinges from one facet to another, each with the facet that it leads to."""
    trails: dict[str, list[tuple[Hinge, str]]] = {start: []}
    grown = True
    while grown and goal not in trails:
        grown = False
        for hinge in piece.hinges:
            for a, b in ((hinge.parent, hinge.child), (hinge.child, hinge.parent)):
                if a in trails and b not in trails:
                    trails[b] = [*trails[a], (hinge, b)]
                    grown = True
    return trails.get(goal, [])


def _beyond(piece: Piece, fold: str, start: str) -> frozenset[str]:
    """The facets that hang on ``start`` without crossing the fold."""
    found = {start}
    grown = True
    while grown:
        grown = False
        for hinge in piece.hinges:
            ends = {hinge.parent, hinge.child}
            if hinge.fold != fold and ends & found and not ends <= found:
                found |= ends
                grown = True
    return frozenset(found)


def _middle(piece: Piece, facet: str, pose: Pose) -> Vector:
    x0, y0, x1, y1 = path_bounds(piece.facet(facet).region.outer)
    return pose.apply(lift(((x0 + x1) / 2.0, (y0 + y1) / 2.0)))


def refolded(
    piece: Piece, facets: Mapping[str, Pose], angles: Mapping[str, float], still: str
) -> dict[str, Pose]:
    """World poses for other fold angles, one facet standing still."""
    relative = facet_poses(piece, angles)
    base = facets[still].after(relative[still].inverse())
    return {name: base.after(pose) for name, pose in relative.items()}


def _leads_apart(
    piece: Piece, body: Body, opening: Opening, glued: str, partner: str, side: int
) -> bool:
    """Whether the papers come apart; ``side`` is on which face of the partner (+1 front) the
    glued facet lies."""
    still = next((f.name for f in piece.facets if f.name not in opening.side), None)
    if still is None:
        return False
    old = dict(body.facets)
    angles = {**dict(body.angles), opening.fold: opening.opened_deg}
    new = refolded(piece, old, angles, still)
    moved = partner if partner in opening.side else glued
    run = sub(_middle(piece, moved, new[moved]), _middle(piece, moved, old[moved]))
    away = dot(run, old[partner].normal) * side
    return away < 0 if moved == partner else away > 0


def _candidates(piece: Piece, body: Body, glued: str, partner: str) -> list[Opening]:
    way = between(piece, glued, partner)
    if not way:
        return []
    angles = dict(body.angles)
    found = []
    for (hinge, _), start in ((way[0], glued), (way[-1], partner)):
        closed = angles.get(hinge.fold, 0.0)
        if closed >= LEAST_FOLDED_DEG:
            opened = closed - min(MOST_OPEN_DEG, closed * OPEN_SHARE)
            side = _beyond(piece, hinge.fold, start)
            found.append(Opening(body.id, hinge.fold, opened, closed, side))
    return found


def _bent_out(
    piece: Piece, body: Body, opening: Opening, pair: tuple[str, str], side: int, face: str
) -> Opening | None:
    """A flap (``pair``: it and its partner) whose glue looks down where its partner is opened is
    bent out flat as well, where that turns the glue up; not one so deep that it would go through
    the partner, on which it lies at ``side``."""
    glued, partner = pair
    sign = 1.0 if face == "front" else -1.0
    before = body.facet_pose(glued).normal[2] * sign
    if glued in opening.side or before > -_DOWN:
        return None
    hinge, _ = between(piece, glued, partner)[0]
    closed = dict(body.angles).get(hinge.fold, 0.0)
    flap = _beyond(piece, hinge.fold, glued)
    still = next((f.name for f in piece.facets if f.name not in flap | opening.side), None)
    if closed < LEAST_FOLDED_DEG or partner in flap or still is None:
        return None
    angles = {**dict(body.angles), opening.fold: opening.opened_deg, hinge.fold: 0.0}
    poses = refolded(piece, dict(body.facets), angles, still)
    x0, y0, x1, y1 = path_bounds(piece.facet(glued).region.outer)
    under = poses[partner]
    clear = all(
        dot(sub(poses[glued].apply(lift(p)), under.shift), under.normal) * side > 0.0
        for p in ((x0, y0), (x1, y0), (x0, y1), (x1, y1))
    )
    if not clear or poses[glued].normal[2] * sign <= before:
        return None
    return Opening(body.id, hinge.fold, 0.0, closed, flap, True)


def openings(frame: Frame, pieces: Mapping[str, Piece]) -> list[Opening]:
    """The folds to open in the picture of a frame, each once."""
    found: dict[tuple[str, str], Opening] = {}
    sides: dict[tuple[FacetId, FacetId], int] = {}
    for lower, upper, side in frame.before.above:
        sides[lower, upper] = side
        normals = [frame.before.body(b).facet_pose(f).normal for b, f in (lower, upper)]
        sides[upper, lower] = -side if dot(*normals) > 0 else side
    for mark in frame.motions:
        if not isinstance(mark, Mark) or mark.what not in ("glue", "tape"):
            continue
        body = frame.before.body(mark.body)
        piece = pieces[body.piece]
        for zone in piece.glue_zones:
            if zone.name not in mark.names or zone.meets is None or zone.meets[0] != piece.name:
                continue
            partner_panel = zone.meets[1]
            for glued in (f.name for f in piece.facets if f.panel == zone.panel):
                for partner in (f.name for f in piece.facets if f.panel == partner_panel):
                    pair = ((body.id, partner), (body.id, glued))
                    if pair not in sides:
                        continue
                    for o in _candidates(piece, body, glued, partner):
                        if _leads_apart(piece, body, o, glued, partner, sides[pair]):
                            found.setdefault((o.body, o.fold), o)
                            up = _bent_out(piece, body, o, (glued, partner), sides[pair], mark.face)
                            if up is not None:
                                found.setdefault((up.body, up.fold), up)
                            break
    return list(found.values())


def opened_state(
    state: State, found: Sequence[Opening], pieces: Mapping[str, Piece]
) -> tuple[State, list[FoldMotion]]:
    """The state with the folds turned back, and the motions that close them again. What is
    glued to a part that opens goes with it."""
    motions: list[FoldMotion] = []
    bodies = {b.id: b for b in state.bodies}
    moved: set[FacetId] = set()
    for name in dict.fromkeys(o.body for o in found):
        own = [o for o in found if o.body == name]
        body, piece = bodies[name], pieces[bodies[name].piece]
        away: frozenset[str] = frozenset().union(*(o.side for o in own))
        still = next((f.name for f in piece.facets if f.name not in away), None)
        if still is None:
            continue
        angles = {**dict(body.angles), **{o.fold: o.opened_deg for o in own}}
        poses = refolded(piece, dict(body.facets), angles, still)
        first = piece.facets[0].name
        bodies[name] = Body(
            body.id,
            body.piece,
            body.copy,
            poses[first],
            tuple(angles.items()),
            tuple((f, poses[f]) for f, _ in body.facets),
            body.placed,
        )
        moved |= {(name, f) for f in away}
        closing = tuple((o.fold, o.opened_deg, o.closed_deg) for o in own)
        told = tuple(o.fold for o in own if not o.bent_out) if any(o.bent_out for o in own) else ()
        moving = tuple(f.name for f in piece.facets if f.name in away)
        motions.append(FoldMotion(name, closing, moving, told))
        _carry(state, bodies, body, away, moved)
    above = tuple(p for p in state.above if (p[0] in moved) == (p[1] in moved))
    return State(tuple(bodies.values()), state.bonds, above, state.made), motions


def _carry(
    state: State, bodies: dict[str, Body], old: Body, away: frozenset[str], moved: set[FacetId]
) -> None:
    """Take along the bodies that are glued to facets which opened."""
    carried: dict[str, Pose] = {}
    for bond in state.bonds:
        for here, there in ((bond.first, bond.second), (bond.second, bond.first)):
            if here[0] == old.id and here[1] in away and there[0] != old.id:
                now = bodies[old.id].facet_pose(here[1])
                carried.setdefault(there[0], now.after(old.facet_pose(here[1]).inverse()))
    for name, motion in carried.items():
        body = bodies[name]
        facets = tuple((f, motion.after(p)) for f, p in body.facets)
        bodies[name] = Body(
            body.id,
            body.piece,
            body.copy,
            motion.after(body.pose),
            body.angles,
            facets,
            body.placed,
        )
        moved |= {(name, f) for f, _ in facets}
