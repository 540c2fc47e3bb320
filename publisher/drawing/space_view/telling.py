"""What the pictures tell, in order: every action, and before it each turn that it needs.

A turn has a picture to itself that shows how the thing lay before it: a thing that an action
turns as it carries it, and all that is shown where the next picture looks at another side. So
a thing lies in every picture as the last one left it.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from msgspec import Struct
from msgspec.structs import replace

from publisher.assembly.bodies import carried
from publisher.assembly.types import Body, Frame, State, Story, TurnMotion
from publisher.drawing.space_view.camera import View, half_round
from publisher.drawing.space_view.shapes import PieceShape, piece_shape
from publisher.drawing.space_view.stage import Stage, set_stage, turn_is_over
from publisher.drawing.space_view.viewpoint import choose_views
from publisher.drawing.space_view.wrapping import as_made
from publisher.geometry.space import Vector, scaled, turned
from publisher.model.types import Pattern, Piece, Target

_UPRIGHT: Vector = (0.0, 0.0, 1.0)
_SAME_DEG = 1.0


class Telling(Struct, frozen=True):
    """For each picture its frame, its stage and the view; ``shapes`` by piece."""

    frames: tuple[Frame, ...]
    stages: tuple[Stage, ...]
    views: tuple[View, ...]
    shapes: dict[str, PieceShape]


def tell(pattern: Pattern, story: Story) -> Telling:
    """All pictures of a story. ``pattern`` is the one that its bodies are made of."""
    pieces = {p.name: p for p in pattern.pieces}
    frames = [
        told
        for frame in story.frames
        for made in as_made(frame, pieces)
        for told in turned_first(made, pieces)
    ]
    stages = [set_stage(pattern, frame) for frame in frames]
    shapes = shapes_of(pattern, stages)
    views = choose_views(frames, stages, shapes)
    found: list[tuple[Frame, Stage, View]] = []
    last: dict[str, View] = {}
    for frame, stage, view in zip(frames, stages, views, strict=True):
        for turn, old in _round(frame, stage, view, last, pieces):
            found.append((turn, set_stage(pattern, turn), old))
        found.append((frame, stage, view))
        last |= dict.fromkeys(stage.bodies, view)
    return Telling(
        tuple(frame for frame, _, _ in found),
        tuple(stage for _, stage, _ in found),
        tuple(view for _, _, view in found),
        shapes,
    )


def shapes_of(pattern: Pattern, stages: Sequence[Stage]) -> dict[str, PieceShape]:
    """The shapes of all pieces on some stages, by name."""
    used = {a.piece.name for stage in stages for a in stage.actors}
    return {p.name: piece_shape(p) for p in pattern.pieces if p.name in used}


def told_frames(pattern: Pattern, story: Story) -> tuple[Frame, ...]:
    """The frames as they are drawn, one for each picture."""
    return tell(pattern, story).frames


def turned_first(frame: Frame, pieces: Mapping[str, Piece]) -> tuple[Frame, ...]:
    """The turns of a frame, each as a frame of its own, and the rest of it."""
    turns = [m for m in frame.motions if isinstance(m, TurnMotion)]
    rest = tuple(m for m in frame.motions if not isinstance(m, TurnMotion))
    if not turns or not rest:
        return (frame,)
    told = []
    now = frame.before
    for turn in turns:
        told.append(_turning(frame, now, turn, pieces))
        now = told[-1].after
    return (*told, replace(frame, before=now, motions=rest))


def _turning(
    frame: Frame, now: State, turn: TurnMotion, pieces: Mapping[str, Piece], world: bool = True
) -> Frame:
    """A frame that does nothing but turn; in the ``world`` or, so, in the eye of the viewer."""
    whole = tuple(_whole(now.body(name), pieces) for name in turn.bodies)
    over = turn_is_over(turn)
    action = replace(
        frame.action,
        verb="turn",
        subjects=tuple(dict.fromkeys(whole)),
        relation="over" if over else "",
        objects=(),
        angle_deg=None,
        called="",
        face=None,
        length_mm=None,
        words=(),
        seconds=None,
        note="",
        pad=None,
    )
    after = now
    if world:
        spin = turned(turn.origin, turn.axis, turn.angle_deg)
        after = replace(
            now,
            bodies=tuple(carried(b, spin) if b.id in turn.bodies else b for b in now.bodies),
        )
    return replace(frame, action=action, before=now, motions=(turn,), after=after)


def _whole(body: Body, pieces: Mapping[str, Piece]) -> Target:
    return Target("piece", body.piece, "", body.copy if pieces[body.piece].copies > 1 else 0)


def _round(
    frame: Frame,
    stage: Stage,
    view: View,
    last: Mapping[str, View],
    pieces: Mapping[str, Piece],
) -> Iterable[tuple[Frame, View]]:
    """A turn on the table for all bodies that were seen last from the same other side. The
    viewer goes round one way: for the maker the things turn the other way."""
    sides: dict[float, list[str]] = {}
    for body in stage.bodies:
        if body in last and frame.before.body(body).placed:
            gone = half_round(view.azimuth_deg - last[body].azimuth_deg)
            if abs(gone) > _SAME_DEG:
                sides.setdefault(gone, []).append(body)
    for gone, bodies in sides.items():
        turn = TurnMotion(tuple(bodies), _middle(stage, bodies), _UPRIGHT, -gone)
        yield _turning(frame, frame.before, turn, pieces, world=False), last[bodies[0]]


def _middle(stage: Stage, bodies: Sequence[str]) -> Vector:
    shifts = [a.pose.shift for body in bodies for a in stage.of(body)]
    x, y, z = (sum(axis) for axis in zip(*shifts, strict=True))
    return scaled((x, y, z), 1.0 / len(shifts))
