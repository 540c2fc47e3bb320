"""The motion of each step, from the same frames, views and scales as its picture.

Motions of one action follow each other; folds of several bodies that stand together in it go
together.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from itertools import groupby

import numpy as np
from msgspec import Struct

from publisher.assembly.types import Bond, FoldMotion, Frame, MoveMotion, Story, TurnMotion
from publisher.drawing.clip import Clip, ClipBody, ClipFacet, Hang
from publisher.drawing.in_turn import Ways, ways_of
from publisher.drawing.loops import loops_of
from publisher.drawing.space_view.camera import Camera
from publisher.drawing.space_view.opened import refolded
from publisher.drawing.space_view.stage import Stage
from publisher.drawing.space_view.story import frame_names, settings
from publisher.drawing.space_view.telling import tell
from publisher.drawing.theme import Theme
from publisher.drawing.underway import underway
from publisher.geometry.flatten import flattened
from publisher.geometry.path import Point
from publisher.geometry.space import Pose, Vector, lift, moved, norm, scaled, sub, turned, unit
from publisher.model.hinges import joints
from publisher.model.types import Pattern, Piece

MOMENTS = 16
"""So many moments for each motion after its first."""
_CHORD_MM = 0.25
_ON_LINE_MM = 1e-3
_WIDER_MM = 2.0
_LEAST_DEG, _LEAST_MM = 0.01, 0.01
SHADES = 6


class Moment(Struct):
    """Where everything is: poses of all facets and fold angles, by body."""

    poses: dict[str, dict[str, Pose]]
    angles: dict[str, dict[str, float]]


_Motion = FoldMotion | MoveMotion | TurnMotion


def _together(frame: Frame, stage: Stage) -> list[list[_Motion]]:
    """The motions in order, folds that stand together as one."""
    listed = [
        m
        for m in (*frame.motions, *stage.closing)
        if isinstance(m, FoldMotion | MoveMotion)
        or (isinstance(m, TurnMotion) and not set(m.bodies) & set(stage.away))
    ]
    found: list[list[_Motion]] = []
    for folds, own in groupby(listed, lambda m: isinstance(m, FoldMotion)):
        group = list(own)
        found += [group] if folds else [[motion] for motion in group]
    return found


def _after(
    now: Moment,
    motion: _Motion,
    share: float,
    pieces: Mapping[str, Piece],
    stage: Stage,
    ways: Ways,
) -> Moment:
    """The moment when a motion that began ``now`` has gone a share of its way."""
    poses, angles = dict(now.poses), dict(now.angles)
    if isinstance(motion, FoldMotion):
        name, way = motion.body, ways[motion]
        angles[name] = {**now.angles[name], **way.at(share)}
        poses[name] = refolded(pieces[name], now.poses[name], angles[name], way.still)
        return Moment(poses, angles)
    if isinstance(motion, TurnMotion):
        carry = turned(motion.origin, motion.axis, motion.angle_deg * share)
    else:
        away = stage.away.get(motion.bodies[0], (0.0, 0.0, 0.0))
        carry = moved(scaled(away, -share))
    for name in motion.bodies:
        if name in poses:
            poses[name] = {f: carry.after(pose) for f, pose in poses[name].items()}
    return Moment(poses, angles)


def _carried(now: Moment, then: Moment, bonds: Sequence[Bond], moving: frozenset[str]) -> Moment:
    """Bodies of which no motion speaks go with the facets that they are glued to."""
    done = set(moving)
    grown = True
    while grown:
        grown = False
        for bond in bonds:
            for here, there in ((bond.first, bond.second), (bond.second, bond.first)):
                if here[0] not in done or there[0] in done or there[0] not in now.poses:
                    continue
                old, new = now.poses[here[0]][here[1]], then.poses[here[0]][here[1]]
                carry = new.after(old.inverse())
                then.poses[there[0]] = {f: carry.after(p) for f, p in now.poses[there[0]].items()}
                done.add(there[0])
                grown = True
    return then


def moments_of(frame: Frame, stage: Stage) -> list[Moment]:
    """Every moment of a frame, the first as its picture shows it."""
    pieces = {a.body: a.piece for a in stage.actors}
    start = Moment(
        {b: {a.facet: a.pose for a in stage.of(b)} for b in stage.bodies},
        {b: dict(stage.angles[b]) for b in stage.bodies},
    )
    found = [start]
    for group in _together(frame, stage):
        first = found[-1]
        movers = frozenset(
            b for m in group for b in ((m.body,) if isinstance(m, FoldMotion) else m.bodies)
        )
        folds = [m for m in group if isinstance(m, FoldMotion)]
        bonds = frame.before.bonds
        loops = loops_of(folds, pieces, bonds, first.poses, first.angles)
        together = loops.bodies if loops is not None else frozenset()
        alone = [m for m in group if not isinstance(m, FoldMotion) or m.body not in together]
        folding = [m for m in alone if isinstance(m, FoldMotion)]
        ways = ways_of(folding, pieces, first.angles, first.poses)
        for k in range(1, MOMENTS + 1):
            # slow at both ends, as a hand goes
            share = (1.0 - float(np.cos(np.pi * k / MOMENTS))) / 2.0
            then = first
            for motion in alone:
                then = _after(then, motion, share, pieces, stage, ways)
            if loops is not None:
                poses, angles = loops.at(share)
                then = Moment({**then.poses, **poses}, {**then.angles, **angles})
            found.append(_carried(first, then, bonds, movers | together))
    if all(isinstance(m, TurnMotion) for m in frame.motions):
        return found  # where only the viewer goes round, the state after does not tell of it
    return _brought_home(found, frame)


def _brought_home(moments: list[Moment], frame: Frame) -> list[Moment]:
    """Where all of a body moves, or it leans on others, its folds do not tell where it ends:
    what is missing to the state after is added little by little."""
    last = len(moments) - 1
    for name, poses in moments[-1].poses.items():
        facet, end = next(iter(poses.items()))
        missing = frame.after.body(name).facet_pose(facet).after(end.inverse())
        axis, angle = _turn_of(missing)
        off = sub(missing.apply(end.shift), end.shift)
        if abs(angle) < _LEAST_DEG and norm(off) < _LEAST_MM:
            continue
        for k, moment in enumerate(moments):
            share = k / last
            spin = turned(end.shift, axis, angle * share) if angle else Pose()
            carry = moved(scaled(off, share)).after(spin)
            moment.poses[name] = {f: carry.after(p) for f, p in moment.poses[name].items()}
    return moments


def _turn_of(pose: Pose) -> tuple[Vector, float]:
    """Axis and degrees of a rotation (Euler's theorem); no turn is 0 about z."""
    (a, b, c), (d, e, f), (g, h, i) = pose.rotation
    angle = math.degrees(math.acos(max(-1.0, min(1.0, (a + e + i - 1.0) / 2.0))))
    axis = (h - f, c - g, d - b)
    if angle < _LEAST_DEG:
        return (0.0, 0.0, 1.0), 0.0
    if norm(axis) > 1e-6:
        return unit(axis), angle
    # half a turn: the largest column of R + 1 lies along the axis
    columns = ((a + 1.0, d, g), (b, e + 1.0, h), (c, f, i + 1.0))
    return unit(max(columns, key=norm)), angle


def _root(pose: Pose) -> tuple[float, ...]:
    rows = [round(float(v), 5) + 0.0 for row in pose.rotation for v in row]
    return (*rows, *(round(float(v), 3) + 0.0 for v in pose.shift))


def _steady(values: Sequence[tuple[float, ...]]) -> tuple[tuple[float, ...], ...]:
    return tuple(values) if len(set(values)) > 1 else tuple(values[:1])


def _bends(
    piece: Piece, facet: str, ring: Sequence[Point], place: Mapping[str, int]
) -> tuple[tuple[int, int], ...]:
    """The edges of a facet's outline that lie along bends; see ``ClipFacet``."""
    found = []
    for hinge in piece.hinges:
        if facet not in (hinge.parent, hinge.child) or not piece.fold(hinge.fold).smooth:
            continue
        beyond = place[hinge.child if facet == hinge.parent else hinge.parent]
        long = math.dist(hinge.start, hinge.end)
        on_line = [
            math.dist(hinge.start, p) + math.dist(p, hinge.end) < long + _ON_LINE_MM for p in ring
        ]
        found += [
            (k, beyond) for k in range(len(ring)) if on_line[k] and on_line[(k + 1) % len(ring)]
        ]
    return tuple(found)


def _body(name: str, stage: Stage, moments: Sequence[Moment], theme: Theme) -> ClipBody:
    piece = stage.of(name)[0].piece
    tree = {joint.facet: joint for joint in joints(piece)}
    place = {facet.name: k for k, facet in enumerate(piece.facets)}
    folds = {fold.name: k for k, fold in enumerate(piece.folds)}
    facets = []
    for actor in stage.of(name):
        joint = tree.get(actor.facet)
        region = piece.facet(actor.facet).region
        rings = tuple(
            tuple(round(float(v), 2) + 0.0 for point in flattened(ring, _CHORD_MM) for v in point)
            for ring in (region.outer, *region.holes)
        )
        hang = None
        if joint is not None:
            x, y, z = (round(float(v), 3) + 0.0 for v in joint.origin)
            a, b, c = (round(float(v), 3) + 0.0 for v in joint.axis)
            hang = Hang(place[joint.on], folds[joint.fold], (x, y, z), (a, b, c))
        bends = _bends(piece, actor.facet, flattened(region.outer, _CHORD_MM), place)
        facets.append(ClipFacet(rings, hang, actor.moving, bends))
    angles = []
    for fold in piece.folds:
        own = [round(float(m.angles[name].get(fold.name, 0.0)), 2) + 0.0 for m in moments]
        angles.append(tuple(own) if len(set(own)) > 1 else tuple(own[:1]))
    first = piece.facets[0].name
    colours = tuple(
        tuple(
            theme.fill_colour(theme.fills[role], piece.stock, k / (SHADES - 1))
            for k in range(SHADES)
        )
        for role in ("front", "back", "front-moving", "back-moving")
    )
    roots = _steady([_root(m.poses[name][first]) for m in moments])
    return ClipBody(name, tuple(facets), roots, tuple(angles), colours)


def _box(
    stage: Stage, moments: Sequence[Moment], camera: Camera
) -> tuple[float, float, float, float]:
    points = []
    for moment in moments:
        for actor in stage.actors:
            pose = moment.poses[actor.body][actor.facet]
            ring = flattened(actor.piece.facet(actor.facet).region.outer, 1.0)
            points += [pose.apply(lift(p)) for p in ring]
    paper = camera.project(np.array(points))[:, :2]
    (x0, y0), (x1, y1) = paper.min(axis=0) - _WIDER_MM, paper.max(axis=0) + _WIDER_MM
    return (
        round(float(x0), 2),
        round(float(y0), 2),
        round(float(x1 - x0), 2),
        round(float(y1 - y0), 2),
    )


def clips(pattern: Pattern, story: Story, theme: Theme) -> Iterator[tuple[Frame, Clip]]:
    """The clip of each frame in which something moves, from the same view and at the same scale
    as its picture. ``pattern`` is the one that the bodies are made of (``Story.handled``)."""
    telling = tell(pattern, story)
    chosen = settings(telling)
    names = frame_names(telling.frames)
    for k, (frame, stage) in enumerate(zip(telling.frames, telling.stages, strict=True)):
        if not stage.actors or not _together(frame, stage):
            continue
        moments = moments_of(frame, stage)
        camera = Camera(chosen[k].view, chosen[k].scale)
        bodies = list(stage.bodies)
        place = {a.id: stage.of(a.body).index(a) for a in stage.actors}
        above = tuple(
            tuple(
                (bodies.index(a[0]), place[a], bodies.index(b[0]), place[b], side)
                for a, b, side in pairs
                if a in place and b in place
            )
            for pairs in (underway(frame, stage), stage.above_after)
        )
        clip = Clip(
            names[k],
            len(moments),
            tuple(round(float(v), 6) + 0.0 for v in camera.rows.ravel()),
            _box(stage, moments, camera),
            tuple(_body(b, stage, moments, theme) for b in bodies),
            above,
        )
        yield frame, clip
