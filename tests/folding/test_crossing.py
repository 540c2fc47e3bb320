"""Paper through paper: depths worked out by hand."""

from __future__ import annotations

import itertools

import pytest
from hypothesis import given
from hypothesis import strategies as st

from publisher.folding.crossing import Sheet, crossing_depth, sheet
from publisher.geometry.space import Pose, Vector, turned

SQUARE = ((0.0, 0.0), (40.0, 0.0), (40.0, 40.0), (0.0, 40.0))


def level(ring: tuple[tuple[float, float], ...], z: float = 0.0, *holes: object) -> Sheet:
    rings = [[(x, y, z) for x, y in r] for r in (ring, *holes)]  # type: ignore[attr-defined]
    return sheet(rings, (0.0, 0.0, 1.0))


def upright(x0: float, x1: float, z0: float, z1: float, y: float = 20.0) -> Sheet:
    ring: list[Vector] = [(x0, y, z0), (x1, y, z0), (x1, y, z1), (x0, y, z1)]
    return sheet([ring], (0.0, -1.0, 0.0))


@pytest.mark.parametrize(
    ("wall", "depth"),
    [
        (upright(10, 30, -5, 30), 5.0),  # through the floor by 5
        (upright(10, 30, -30, 7), 7.0),  # from below, out of it by 7
        (upright(37, 60, -30, 30), 3.0),  # into its edge by 3
        (upright(10, 30, 0, 30), 0.0),  # stands on it
        (upright(10, 30, 0.3, 30), 0.0),  # over it
        (upright(40, 60, -30, 30), 0.0),  # touches its edge
        (upright(10, 30, -30, 30, y=60), 0.0),  # beside it
        (upright(-10, 50, -30, 30, y=2), 2.0),  # along its side, 2 in from it
    ],
)
def test_a_wall_through_a_floor(wall: Sheet, depth: float) -> None:
    floor = level(SQUARE)
    assert crossing_depth(floor, wall) == pytest.approx(depth, abs=1e-9)
    assert crossing_depth(wall, floor) == pytest.approx(depth, abs=1e-9)


def test_a_wall_through_a_window_does_not_cross() -> None:
    window = ((5.0, 5.0), (35.0, 5.0), (35.0, 35.0), (5.0, 35.0))
    floor = level(SQUARE, 0.0, window)
    assert crossing_depth(floor, upright(10, 30, -30, 30)) == 0.0
    # It reaches 2 into the frame at the right.
    assert crossing_depth(floor, upright(10, 37, -30, 30)) == pytest.approx(2.0)


def test_papers_that_lie_flat_on_each_other_do_not_cross() -> None:
    assert crossing_depth(level(SQUARE), level(SQUARE)) == 0.0
    assert crossing_depth(level(SQUARE), level(SQUARE, 0.4)) == 0.0


def moved_by(paper: Sheet, pose: Pose) -> Sheet:
    rings = [[pose.apply(p) for p in ring] for ring in paper.rings]
    return sheet(rings, pose.turn(paper.normal))


@given(
    st.tuples(*[st.floats(-1, 1)] * 3).filter(lambda a: sum(x * x for x in a) > 0.1),
    st.floats(0, 360),
)
def test_the_depth_is_the_same_however_both_lie(axis: Vector, angle: float) -> None:
    pose = turned((3.0, -4.0, 5.0), axis, angle)
    floor = level(SQUARE)
    for wall in (upright(10, 30, -5, 30), upright(37, 60, -30, 30), upright(10, 30, 1, 30)):
        before = crossing_depth(floor, wall)
        after = crossing_depth(moved_by(floor, pose), moved_by(wall, pose))
        assert after == pytest.approx(before, abs=1e-6)


@given(st.floats(-60, 60), st.floats(-60, 60), st.floats(10, 80))
def test_facets_on_one_fold_never_cross(first: float, second: float, width: float) -> None:
    """Three panels of a strip folded less than it takes for them to meet."""
    ring = [(0.0, 0.0, 0.0), (width, 0.0, 0.0), (width, 50.0, 0.0), (0.0, 50.0, 0.0)]
    a = sheet([ring], (0.0, 0.0, 1.0))
    at_b = turned((width, 0.0, 0.0), (0.0, 1.0, 0.0), first)
    b = moved_by(sheet([[(x + width, y, z) for x, y, z in ring]], (0.0, 0.0, 1.0)), at_b)
    at_c = at_b.after(turned((2 * width, 0.0, 0.0), (0.0, 1.0, 0.0), second))
    c = moved_by(sheet([[(x + 2 * width, y, z) for x, y, z in ring]], (0.0, 0.0, 1.0)), at_c)
    for one, other in itertools.combinations((a, b, c), 2):
        assert crossing_depth(one, other) == 0.0
