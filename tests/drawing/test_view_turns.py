"""Turns: the sign as the view shows it, a picture for every turn, and nothing that lies otherwise
in a picture than the last one left it."""

from __future__ import annotations

import math
from functools import cache
from pathlib import Path

import numpy as np
import pytest
import shapely

from publisher.assembly import Story, TurnMotion
from publisher.drawing.space_view import draw_told
from publisher.drawing.space_view.camera import Array, Camera, View
from publisher.drawing.space_view.stage import Stage
from publisher.drawing.space_view.telling import Telling, tell
from publisher.drawing.space_view.turn_signs import turn_sign
from publisher.drawing.space_view.viewpoint import VIEWS
from publisher.geometry.space import Vector, turned
from publisher.model.types import Pattern
from publisher.pipeline import check_pattern
from publisher.workshop import open_workshop
from tests.drawing.view_scenes import fills

ROOT = Path(__file__).parents[2]
NAMES = sorted(p.parent.name for p in (ROOT / "content").glob("*/pattern.md"))
VIEW = VIEWS[0]
ACROSS, AWAY, UP = (1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)


@pytest.mark.parametrize("axis", [ACROSS, AWAY, UP, (0.6, -0.8, 0.0)])
@pytest.mark.parametrize("angle", [90.0, -90.0, 104.0, 180.0])
def test_the_axis_of_a_turn_sign_lies_as_the_axis_does(axis: Vector, angle: float) -> None:
    sign = turn_sign(axis, angle, VIEW)
    way = np.array(Camera(VIEW, 1.0).direction(axis))
    for start, end in sign.axis:
        run = np.subtract(end, start)
        assert abs(float(run[0] * way[1] - run[1] * way[0])) < 1e-9
    assert shapely.box(*sign.bounds).buffer(1e-6).covers(sign.arrow.ink)


@pytest.mark.parametrize("axis", [ACROSS, AWAY, UP])
@pytest.mark.parametrize("angle", [90.0, -90.0])
def test_the_arrow_goes_the_way_that_a_point_of_the_thing_goes(axis: Vector, angle: float) -> None:
    """A point over a level axis, or before an upright one, turned back and on by half the way:
    the arrow's thin tail is at the first place and its head at the second."""
    sign = turn_sign(axis, angle, VIEW)
    camera = Camera(VIEW, 1.0)
    top = np.array(camera.toward if axis == UP else UP)
    top -= np.array(axis) * (top @ axis)
    top = tuple(top / np.linalg.norm(top) * 5.2)
    turns = [turned((0.0, 0.0, 0.0), axis, angle * part).apply(top) for part in (-0.5, 0.5)]
    tail, head = camera.project(np.array(turns))[:, :2]
    thin, wide = (
        shapely.intersection(sign.arrow.ink, shapely.Point(p).buffer(2.6)).area
        for p in (tail, head)
    )
    assert 0.5 < thin < wide * 0.7


def test_the_front_of_the_loop_passes_before_the_axis_and_its_back_behind() -> None:
    sign = turn_sign(UP, 180.0, VIEW)
    whole = shapely.MultiLineString(sign.axis)
    assert len(shapely.get_parts(whole)) == 2  # broken once, where the arrow passes before it
    assert shapely.distance(whole, sign.arrow.ink) > 0.1
    over = turn_sign((-1.0, 0.0, 0.0), 180.0, VIEW)
    assert shapely.distance(shapely.MultiLineString(over.axis), over.arrow.ink) > 0.1


@pytest.mark.parametrize("axis", [ACROSS, AWAY, UP, (-1.0, 0.0, 0.0), (0.0, -1.0, 0.0)])
@pytest.mark.parametrize("angle", [90.0, 104.0, 180.0])
def test_the_axis_leaves_no_specks_of_the_arrow(axis: Vector, angle: float) -> None:
    parts = shapely.get_parts(turn_sign(axis, angle, VIEW).arrow.ink)
    assert min(shapely.area(parts)) > 0.5
    assert len(parts) <= 3


# ---------------------------------------------------------------- a picture for every turn


@cache
def telling(name: str) -> tuple[Pattern, Story, Telling]:
    outcome = check_pattern(open_workshop(ROOT)[0], name)
    assert outcome.story is not None
    pattern = outcome.story.handled or outcome.pattern
    assert pattern is not None
    return pattern, outcome.story, tell(pattern, outcome.story)


@pytest.mark.parametrize("name", NAMES)
def test_a_picture_with_a_turn_shows_nothing_else(name: str) -> None:
    pattern, story, _ = telling(name)
    for frame, drawing in draw_told(pattern, story):
        turns = any(isinstance(m, TurnMotion) for m in frame.motions)
        assert turns == bool(fills(drawing, "arrow-turn")), drawing.name
        if turns:
            assert len(frame.motions) == 1, drawing.name
            assert not fills(drawing, "arrow-fold", "arrow-move"), drawing.name


def lies(stage: Stage, body: str, view: View) -> dict[str, Array]:
    """How each facet of a body is turned to the viewer's right and up the table."""
    a = math.radians(-view.azimuth_deg)
    round_table = np.array(
        [[math.cos(a), -math.sin(a), 0], [math.sin(a), math.cos(a), 0], [0, 0, 1]]
    )
    return {actor.facet: round_table @ np.array(actor.pose.rotation) for actor in stage.of(body)}


def left(told: Telling, k: int, body: str) -> dict[str, Array]:
    """How a body lies for the viewer when the action of a picture is done."""
    frame, view = told.frames[k], told.views[k]
    turn = next((m for m in frame.motions if isinstance(m, TurnMotion)), None)
    if turn is not None:
        now = lies(told.stages[k], body, view)
        if body not in turn.bodies:
            return now
        a = math.radians(-view.azimuth_deg)
        x, y, z = turn.axis
        seen = (x * math.cos(a) - y * math.sin(a), x * math.sin(a) + y * math.cos(a), z)
        spin = np.array(turned((0.0, 0.0, 0.0), seen, turn.angle_deg).rotation)
        return {facet: spin @ m for facet, m in now.items()}
    after = frame.after.body(body)
    a = math.radians(-view.azimuth_deg)
    round_table = np.array(
        [[math.cos(a), -math.sin(a), 0], [math.sin(a), math.cos(a), 0], [0, 0, 1]]
    )
    return {facet: round_table @ np.array(pose.rotation) for facet, pose in after.facets}


def jumps(told: Telling) -> list[str]:
    """Bodies that lie otherwise in a picture than the last one that showed them left them, but for
    what is glued to a part that the picture opens to show glue."""
    found = []
    last: dict[str, int] = {}
    for k, (stage, view) in enumerate(zip(told.stages, told.views, strict=True)):
        opened = {f for m in stage.closing for f in ((m.body, name) for name in m.moving)}
        ends = [(bond.first, bond.second) for bond in told.frames[k].before.bonds]
        along = {b[0] for pair in ends for a, b in (pair, pair[::-1]) if a in opened}
        for body in stage.bodies:
            if body in last and body not in along - {m.body for m in stage.closing}:
                then, now = left(told, last[body], body), lies(stage, body, view)
                off = min(float(np.abs(then[f] - now[f]).max()) for f in now if f in then)
                if off > 0.02:
                    found.append(
                        f"{told.frames[k].step} {told.frames[k].action.verb} {body} {off:.2f}"
                    )
            last[body] = k
    return found


@pytest.mark.parametrize("name", NAMES)
def test_nothing_lies_otherwise_than_the_last_picture_left_it(name: str) -> None:
    assert jumps(telling(name)[2]) == []
