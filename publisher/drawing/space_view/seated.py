"""A frame as it lies before the maker, who sits where the picture is seen from: where the view goes
round by quarters the thing has been turned on the table, and its left is another side now."""

from __future__ import annotations

from collections.abc import Mapping

from msgspec.structs import replace

from publisher.assembly.bodies import carried
from publisher.assembly.types import Frame, Motion, MoveMotion, State, TurnMotion
from publisher.drawing.space_view.camera import View
from publisher.geometry.space import Pose, Vector, turned

_UPRIGHT: Vector = (0.0, 0.0, 1.0)
_HERE: Vector = (0.0, 0.0, 0.0)


def quarters_deg(view: View) -> float:
    """How far round the seat is, in quarters."""
    return 90.0 * round(view.azimuth_deg / 90.0)


def from_seat(view: View) -> View:
    """The view as it is from the seat."""
    return View(view.azimuth_deg - quarters_deg(view), view.elevation_deg)


def seated(frame: Frame, view: View) -> Frame:
    """The frame turned so that the seat is at the near side. A turn that is only one of the view
    turns what it turns in the words."""
    round_deg = quarters_deg(view)
    turn = next((m for m in frame.motions if isinstance(m, TurnMotion)), None)
    if turn is not None and frame.before is frame.after:
        spin = turned(turn.origin, turn.axis, turn.angle_deg)
        frame = replace(frame, after=_moved(frame.after, spin, turn.bodies))
    if round_deg == 0.0:
        return frame
    table = turned(_HERE, _UPRIGHT, -round_deg)
    return replace(
        frame,
        before=_moved(frame.before, table),
        after=_moved(frame.after, table),
        motions=tuple(_motion(m, table) for m in frame.motions),
    )


def seated_ways(ways: Mapping[str, Vector], view: View) -> dict[str, Vector]:
    """Directions by name, from the seat."""
    table = turned(_HERE, _UPRIGHT, -quarters_deg(view))
    return {name: table.turn(way) for name, way in ways.items()}


def _moved(state: State, motion: Pose, bodies: tuple[str, ...] = ()) -> State:
    return replace(
        state,
        bodies=tuple(
            carried(b, motion) if not bodies or b.id in bodies else b for b in state.bodies
        ),
    )


def _motion(motion: Motion, table: Pose) -> Motion:
    if isinstance(motion, TurnMotion):
        return replace(motion, origin=table.apply(motion.origin), axis=table.turn(motion.axis))
    if isinstance(motion, MoveMotion):
        return replace(motion, path=tuple(table.turn(leg) for leg in motion.path))
    return motion
