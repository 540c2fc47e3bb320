"""What stands in a picture: which bodies, where each facet is, what moves, where it will lie.

A picture shows the state before its action. Bodies that move along a path are shown at the
path's start (exploded), with a ghost where they will come to lie.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from functools import cached_property
from itertools import groupby
from operator import attrgetter
from typing import TypeGuard

from msgspec import Struct, field
from msgspec.structs import replace

from publisher.assembly.types import (
    Body,
    FacetId,
    FoldMotion,
    Frame,
    Mark,
    Motion,
    MoveMotion,
    State,
    TurnMotion,
)
from publisher.drawing.space_view.exploded import moved_bodies
from publisher.drawing.space_view.opened import opened_state, openings, refolded
from publisher.drawing.space_view.room_taken import Box, box_of
from publisher.geometry.space import Pose, Vector, moved, norm, sub
from publisher.model.types import Pattern, Piece, Target

_TOUCH_MM = 2.0


class Actor(Struct, frozen=True):
    """One facet on stage. ``angles`` belong to its body, as shown."""

    body: str
    piece: Piece
    facet: str
    pose: Pose
    moving: bool

    @property
    def id(self) -> FacetId:
        return (self.body, self.facet)


_body_of = attrgetter("body")


class Stage(Struct, frozen=True, dict=True):
    """``ghosts`` are where moving facets will come to lie. ``above`` orders facets that lie on
    each other, as in ``State``; ``above_after`` is for the ghosts. ``angles`` are the fold
    angles shown, by body. ``closing`` are folds that the picture opened to show glue, from
    how they are drawn to how they are. ``away`` is how far from their place bodies that
    travel are drawn. ``unmade`` are folds, slits and windows (body, name) that a later step
    scores or cuts, ``in_place`` windows that it presses out."""

    actors: tuple[Actor, ...]
    ghosts: tuple[Actor, ...]
    above: tuple[tuple[FacetId, FacetId, int], ...]
    above_after: tuple[tuple[FacetId, FacetId, int], ...]
    angles: Mapping[str, Mapping[str, float]]
    closing: tuple[FoldMotion, ...] = ()
    away: Mapping[str, Vector] = field(default_factory=dict)
    unmade: frozenset[tuple[str, str]] = frozenset()
    wet: tuple[Mark, ...] = ()
    in_place: frozenset[tuple[str, str]] = frozenset()

    @cached_property
    def _by_body(self) -> Mapping[str, tuple[Actor, ...]]:
        groups = groupby(sorted(self.actors, key=_body_of), _body_of)
        return {body: tuple(own) for body, own in groups}

    @cached_property
    def _by_id(self) -> Mapping[FacetId, Actor]:
        return {(a.body, a.facet): a for a in self.actors}

    def of(self, body: str) -> tuple[Actor, ...]:
        return self._by_body.get(body, ())

    def actor(self, body: str, facet: str) -> Actor:
        return self._by_id[body, facet]

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


def cast(frame: Frame, pieces: Mapping[str, Piece]) -> list[str]:
    """The bodies that a frame must show, in the order of the state: those that act or are
    named, what holds to them, and what stands inside them or around them."""
    wanted: list[str] = []
    for motion in frame.motions:
        wanted += [motion.body] if isinstance(motion, FoldMotion | Mark) else motion.bodies
    for target in (*frame.action.subjects, *frame.action.objects):
        wanted += named_bodies(frame.before, target)
    held = joined(frame.before, wanted)
    standing = [b for b in frame.before.bodies if b.placed]
    if all(b.id in held for b in standing):
        return held
    boxes = {b.id: box_of(b, pieces[b.piece]) for b in standing}
    near = [
        other
        for other in boxes
        if other not in held and any(n in boxes and _share(boxes[n], boxes[other]) for n in held)
    ]
    return joined(frame.before, [*held, *near])


def _share(a: Box, b: Box) -> bool:
    """Whether two boxes share room, more than touching. A sheet that is thinner than that one
    way, as a divider is, has to lie well within the other box that way."""
    for one, other in zip(zip(*a, strict=True), zip(*b, strict=True), strict=True):
        thin, thick = sorted((one, other), key=lambda span: span[1] - span[0])
        if thin[1] - thin[0] <= _TOUCH_MM:
            within = thick[0] + _TOUCH_MM < thin[0] and thin[1] < thick[1] - _TOUCH_MM
        else:
            within = min(thin[1], thick[1]) - max(thin[0], thick[0]) > _TOUCH_MM
        if not within:
            return False
    return True


def _shown_poses(before: Body, after: Body, come_from: Vector | None) -> dict[str, Pose]:
    poses = dict(before.facets)
    if come_from is None:
        return poses
    carried = moved(come_from).after(after.pose).after(before.pose.inverse())
    return {name: carried.after(pose) for name, pose in poses.items()}


def _landing(piece: Piece, motion: FoldMotion, shown: Body) -> dict[str, Pose]:
    """World poses of the motion's moving facets when it is done, the other facets standing
    still as ``shown``; none where every facet moves."""
    still = next((f.name for f in piece.facets if f.name not in motion.moving), None)
    if still is None:
        return {}
    angles = dict(shown.angles) | {name: end for name, _, end in motion.folds}
    poses = refolded(piece, dict(shown.facets), angles, still)
    return {name: poses[name] for name in motion.moving}


def set_stage(pattern: Pattern, frame: Frame) -> Stage:
    """The stage of one frame."""
    pieces = {p.name: p for p in pattern.pieces}
    come_from = moved_bodies(frame, pieces)
    scene = frame.before
    closing: list[FoldMotion] = []
    opened = openings(frame, pieces)
    if opened:
        scene, closing = opened_state(frame.before, opened, pieces)
    folds = {
        body: [m for m in frame.motions if isinstance(m, FoldMotion) and m.body == body]
        for body in cast(frame, pieces)
    }
    actors: list[Actor] = []
    ghosts: list[Actor] = []
    angles: dict[str, Mapping[str, float]] = {}
    for name, motions in folds.items():
        before, after = scene.body(name), frame.after.body(name)
        piece = pieces[before.piece]
        poses = _shown_poses(before, after, come_from.get(name))
        shown = replace(before, facets=tuple(poses.items()))
        moving = {facet for motion in motions for facet in motion.moving}
        moving |= {f for m in closing if m.body == name for f in m.moving}
        if name in come_from:
            moving = set(poses)
        landing: dict[str, Pose] = dict(after.facets) if name in come_from else {}
        if name not in come_from:
            for motion in motions:
                landing |= _landing(piece, motion, shown)
        for facet in piece.facets:
            actors.append(Actor(name, piece, facet.name, poses[facet.name], facet.name in moving))
            if facet.name in landing:
                ghosts.append(Actor(name, piece, facet.name, landing[facet.name], True))
        angles[name] = dict(before.angles)
    pulled = {b for m in frame.motions if _is_pull(m) for b in m.bodies}
    apart = set(come_from) - pulled  # what is pulled still lies where it lay
    above = tuple(p for p in scene.above if (p[0][0] in apart) == (p[1][0] in apart))
    return Stage(
        tuple(actors), tuple(ghosts), above, frame.after.above, angles, tuple(closing), come_from
    )


def _is_pull(motion: Motion) -> TypeGuard[MoveMotion]:
    return isinstance(motion, MoveMotion) and motion.manner == "pull"


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
        if norm(sub(offsets.get(p[0][0], (0.0, 0.0, 0.0)), offsets.get(p[1][0], (0.0, 0.0, 0.0))))
        < 1e-6
    )
    return Stage(tuple(actors), (), above, (), angles)


def turn_is_quarter(motion: TurnMotion) -> bool:
    """Whether a thing is turned onto another side, as a box is stood up, not onto its back."""
    return turn_is_over(motion) and 45.0 < abs(motion.angle_deg) % 360.0 < 135.0


def turn_is_over(motion: TurnMotion) -> bool:
    """Whether the turn brings the other face up, rather than round on the table."""
    return abs(motion.axis[2]) < 0.7 * norm(motion.axis)
