"""Turns in words: which way a thing goes over, and how it lies then."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from publisher.assembly.types import Body, Frame, State, TurnMotion
from publisher.drawing.space_view.lists import gathered, listed, the
from publisher.drawing.space_view.lying_words import face_up, hollow, size
from publisher.drawing.space_view.place_words import (
    Spread,
    angle,
    at_side,
    body_name,
    heading,
    spread,
)
from publisher.drawing.space_view.stage import turn_is_over
from publisher.geometry.space import cross, norm, scaled
from publisher.model.types import Piece

_HALF_DEG, _QUARTER_DEG, _SAME_DEG = 135.0, 90.0, 1.0


def turn_sentences(frame: Frame, motion: TurnMotion, pieces: Mapping[str, Piece]) -> Iterator[str]:
    """How some bodies are turned, with what is where afterwards."""
    if not motion.bodies:
        return
    what, along = _named(motion, pieces)
    across = abs(motion.axis[0]) >= abs(motion.axis[1])
    turned = abs(motion.angle_deg) % 360.0
    if not turn_is_over(motion):
        ccw = (motion.angle_deg > 0.0) == (motion.axis[2] > 0.0)
        way = "counter-clockwise" if ccw else "clockwise"
        how = f"round by {angle(abs(motion.angle_deg))} {way} as seen from above"
        yield f"Turn {what} {how}, the same face up{along}."
        yield from _places(frame, motion, pieces, (0, 1))
        return
    if min(turned, 360.0 - turned) > _HALF_DEG:
        edges = "the near edge goes to the far side" if across else "left and right change places"
        yield f"Turn {what} over{along}, so that {edges}."
    else:
        top = scaled(cross(motion.axis, (0.0, 0.0, 1.0)), motion.angle_deg / norm(motion.axis))
        far = "a quarter turn" if abs(turned - _QUARTER_DEG) < _SAME_DEG else angle(turned)
        yield f"Tip {what} {heading(top)} by {far}{along}."
    face = _face_up(frame.after, motion)
    copies = len(motion.bodies) > 1 and not along
    if face:
        up = f"the {face} face of each is up" if copies else f"its {face} face is up"
        yield from _places(frame, motion, pieces, (1,) if across else (0,), up)
    else:
        now = hollow(frame.after, _turned(frame.after, motion, pieces))
        verb = "is" if now.startswith("open") else "rests"
        one = "each" if copies else "it"
        yield from _places(frame, motion, pieces, (2,), "", f"{one} {verb} {now}" if now else "")


def _named(motion: TurnMotion, pieces: Mapping[str, Piece]) -> tuple[str, str]:
    """What is turned: the largest, and what is on it."""
    host = max(motion.bodies, key=lambda b: size(pieces[b]))
    if all(pieces[b].name == pieces[host].name for b in motion.bodies):
        return gathered(body_name(pieces[b], b) for b in motion.bodies), ""
    rest = [body_name(pieces[b], b) for b in motion.bodies if b != host]
    return the([body_name(pieces[host], host)]), f", {gathered(rest)} with it" if rest else ""


def _face_up(after: State, motion: TurnMotion) -> str:
    """The face of a flat thing that is up; of several things the first one's."""
    faces = [face_up(after.body(b)) for b in motion.bodies]
    return faces[0] if all(faces) else ""


def _turned(
    state: State, motion: TurnMotion, pieces: Mapping[str, Piece]
) -> dict[str, tuple[Piece, Body]]:
    return {b: (pieces[b], state.body(b)) for b in motion.bodies}


def _places(
    frame: Frame,
    motion: TurnMotion,
    pieces: Mapping[str, Piece],
    axes: tuple[int, ...],
    before: str = "",
    rest: str = "",
) -> Iterator[str]:
    """Which parts are at the ends of some axes after the turn."""
    found: Spread = spread(_turned(frame.after, motion, pieces))
    ends = {name: parts for axis in axes for name, parts in found.at_ends(axis).items()}
    places, verb = [], ""
    for name, parts in ends.items():
        if not (name == "bottom" and " rests on " in rest):
            now = "is" if len(parts) == 1 else "are"
            places.append(f"{gathered(parts)}{'' if verb == now else f' {now}'} {at_side(name)}")
            verb = now
    said = [part for part in (before, *places, rest) if part]
    if said:
        yield f"Then {listed(said)}."
