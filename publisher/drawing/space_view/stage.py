"""What stands in a picture: which bodies, where each facet is, what moves, where it will lie.

A picture shows the state before its action. Bodies that move along a path are shown at the
path's start (exploded), with a ghost where they will come to lie.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

from publisher.assembly.types import (
    Body,
    FacetId,
    FoldMotion,
    Frame,
    Mark,
    MoveMotion,
    State,
    TurnMotion,
)
from publisher.geometry.space import Pose, Vector, add, moved, norm, scaled, sub
from publisher.model.folding import facet_poses
from publisher.model.types import Pattern, Piece, Target


@dataclass(frozen=True, slots=True)
class Actor:
    """One facet on stage. ``angles`` belong to its body, as shown."""

    body: str
    piece: Piece
    facet: str
    pose: Pose
    moving: bool

    @property
    def id(self) -> FacetId:
        return (self.body, self.facet)


@dataclass(frozen=True, slots=True)
class Stage:
    """``ghosts`` are where moving facets will come to lie. ``above`` orders facets that lie on
    each other, as in ``State``; ``above_after`` is for the ghosts. ``angles`` are the fold
    angles shown, by body."""

    actors: tuple[Actor, ...]
    ghosts: tuple[Actor, ...]
    above: tuple[tuple[FacetId, FacetId, int], ...]
    above_after: tuple[tuple[FacetId, FacetId, int], ...]
    angles: Mapping[str, Mapping[str, float]]

    def of(self, body: str) -> tuple[Actor, ...]:
        return tuple(a for a in self.actors if a.body == body)

    def actor(self, body: str, facet: str) -> Actor:
        return next(a for a in self.actors if a.id == (body, facet))

    @property
    def bodies(self) -> tuple[str, ...]:
        return tuple(dict.fromkeys(a.body for a in self.actors))


def named_bodies(state: State, target: Target) -> list[str]:
    """The bodies that a target speaks of."""
    if target.kind == "made":
        return list(dict(state.made).get(target.piece, ()))
    copies = [b for b in state.bodies if b.piece == target.piece]
    return [b.id for b in copies if target.copy in (0, b.copy)]


def joined(state: State, start: Iterable[str]) -> list[str]:
    """The bodies given and all that hold to them, in the order of the state."""
    found = set(start)
    grown = True
    while grown:
        grown = False
        for bond in state.bonds:
            ends = {bond.first[0], bond.second[0]}
            if ends & found and not ends <= found:
                found |= ends
                grown = True
    return [b.id for b in state.bodies if b.id in found]


def cast(frame: Frame) -> list[str]:
    """The bodies that a frame must show, in the order of the state."""
    wanted: list[str] = []
    for motion in frame.motions:
        wanted += [motion.body] if isinstance(motion, FoldMotion | Mark) else motion.bodies
    for target in (*frame.action.subjects, *frame.action.objects):
        wanted += named_bodies(frame.before, target)
    return joined(frame.before, wanted)


def moved_bodies(frame: Frame) -> dict[str, Vector]:
    """Bodies that travel along a path, with the offset that they come from."""
    return {
        body: motion.path[0]
        for motion in frame.motions
        if isinstance(motion, MoveMotion) and motion.path
        for body in motion.bodies
    }


def _shown_poses(before: Body, after: Body, come_from: Vector | None) -> dict[str, Pose]:
    poses = dict(before.facets)
    if come_from is None:
        return poses
    carried = moved(come_from).after(after.pose).after(before.pose.inverse())
    return {name: carried.after(pose) for name, pose in poses.items()}


def fold_poses(
    piece: Piece, motion: FoldMotion, shown: Body, part: float
) -> dict[str, Pose] | None:
    """World poses of the motion's moving facets when ``part`` (0 to 1) of it is done, the
    other facets standing still as ``shown``. None where every facet moves."""
    still = next((f.name for f in piece.facets if f.name not in motion.moving), None)
    if still is None:
        return None
    angles = dict(shown.angles)
    for name, start, end in motion.folds:
        angles[name] = start + (end - start) * part
    relative = facet_poses(piece, angles)
    base = shown.facet_pose(still).after(relative[still].inverse())
    return {name: base.after(relative[name]) for name in motion.moving}


def set_stage(pattern: Pattern, frame: Frame) -> Stage:
    """The stage of one frame."""
    pieces = {p.name: p for p in pattern.pieces}
    come_from = moved_bodies(frame)
    folds = {
        body: [m for m in frame.motions if isinstance(m, FoldMotion) and m.body == body]
        for body in cast(frame)
    }
    actors: list[Actor] = []
    ghosts: list[Actor] = []
    angles: dict[str, Mapping[str, float]] = {}
    for name, motions in folds.items():
        before, after = frame.before.body(name), frame.after.body(name)
        piece = pieces[before.piece]
        poses = _shown_poses(before, after, come_from.get(name))
        shown = replace(before, facets=tuple(poses.items()))
        moving = {facet for motion in motions for facet in motion.moving}
        if name in come_from:
            moving = set(poses)
        landing: dict[str, Pose] = dict(after.facets) if name in come_from else {}
        if name not in come_from:
            for motion in motions:
                landing |= fold_poses(piece, motion, shown, 1.0) or {}
        for facet in piece.facets:
            actors.append(Actor(name, piece, facet.name, poses[facet.name], facet.name in moving))
            if facet.name in landing:
                ghosts.append(Actor(name, piece, facet.name, landing[facet.name], True))
        angles[name] = dict(before.angles)
    above = tuple(
        p for p in frame.before.above if (p[0][0] in come_from) == (p[1][0] in come_from)
    )
    return Stage(tuple(actors), tuple(ghosts), above, frame.after.above, angles)


def set_end(
    pattern: Pattern, state: State, offsets: Mapping[str, Vector], bodies: Iterable[str]
) -> Stage:
    """The stage of a finished state, some bodies drawn away from their places."""
    pieces = {p.name: p for p in pattern.pieces}
    actors = []
    angles: dict[str, Mapping[str, float]] = {}
    for name in bodies:
        body = state.body(name)
        piece = pieces[body.piece]
        away = moved(offsets.get(name, (0.0, 0.0, 0.0)))
        poses = {facet: away.after(pose) for facet, pose in body.facets}
        actors += [Actor(name, piece, f.name, poses[f.name], False) for f in piece.facets]
        angles[name] = dict(body.angles)
    above = tuple(
        p
        for p in state.above
        if norm(
            sub(offsets.get(p[0][0], (0.0, 0.0, 0.0)), offsets.get(p[1][0], (0.0, 0.0, 0.0)))
        )
        < 1e-6
    )
    return Stage(tuple(actors), (), above, (), angles)


def turn_is_over(motion: TurnMotion) -> bool:
    """Whether the turn brings the other face up, rather than round on the table."""
    return abs(motion.axis[2]) < 0.7 * norm(motion.axis)


def path_between(points: tuple[Vector, ...], part: float) -> Vector:
    """The offset on a path when ``part`` (0 to 1) of its length is done."""
    lengths = [norm(sub(b, a)) for a, b in zip(points, points[1:], strict=False)]
    left = part * sum(lengths)
    for (a, b), length in zip(zip(points, points[1:], strict=False), lengths, strict=True):
        if left <= length and length > 0:
            return add(a, scaled(sub(b, a), left / length))
        left -= length
    return points[-1]
