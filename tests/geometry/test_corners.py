"""Corners of rings cut off: lengths and areas by hand."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from publisher.geometry.corners import CornerCut, corners_of, reach_of, with_corner
from publisher.geometry.measure import signed_area
from publisher.geometry.path import Arc, Path, circle, polygon
from publisher.geometry.segments import direction_at

CARD = polygon([(0, 0), (60, 0), (60, 40), (0, 40)])
# An L whose inner corner is at (30, 20).
ELL = polygon([(0, 0), (60, 0), (60, 20), (30, 20), (30, 40), (0, 40)])


def cut(ring: Path, at: tuple[float, float], how: CornerCut, size: float) -> Path:
    found = with_corner(ring, at, how, size)
    assert isinstance(found, Path)
    return found


@pytest.mark.parametrize(
    ("how", "size", "away"),
    [
        ("rounded", 6.0, (1.0 - math.pi / 4.0) * 36.0),
        ("bevelled", 6.0, 18.0),
        ("scooped", 6.0, math.pi / 4.0 * 36.0),
    ],
)
def test_a_square_corner_loses_what_it_should(how: CornerCut, size: float, away: float) -> None:
    for at in ((0.0, 0.0), (60.0, 0.0), (60.0, 40.0), (0.0, 40.0)):
        ring = cut(CARD, at, how, size)
        assert signed_area(ring) == pytest.approx(2400.0 - away)
        assert len(ring.segments) == 5


def test_an_inner_corner_is_filled() -> None:
    rounded = cut(ELL, (30.0, 20.0), "rounded", 5.0)
    assert signed_area(rounded) == pytest.approx(1800.0 + (1.0 - math.pi / 4.0) * 25.0)
    assert signed_area(cut(ELL, (30.0, 20.0), "bevelled", 5.0)) == pytest.approx(1800.0 + 12.5)


@given(st.floats(0.5, 12.0), st.floats(20.0, 160.0))
def test_a_round_runs_on_from_both_sides(radius: float, angle: float) -> None:
    turn = math.radians(180.0 - angle)
    far = 500.0
    tip = (far * math.cos(turn), far * math.sin(turn))
    ring = polygon([(-far, 0.0), (0.0, 0.0), tip, (-far, tip[1] + 1.0)])
    rounded = cut(ring, (0.0, 0.0), "rounded", radius)
    place, arc = next((i, s) for i, s in enumerate(rounded.segments) if isinstance(s, Arc))
    assert arc.radius_mm == pytest.approx(radius)
    for a, b in (
        (rounded.segments[place - 1], arc),
        (arc, rounded.segments[(place + 1) % len(rounded.segments)]),
    ):
        assert direction_at(a, 1.0) == pytest.approx(direction_at(b, 0.0), abs=1e-6)


def test_what_takes_all_of_two_sides_is_a_quarter_round() -> None:
    square = polygon([(0, 0), (10, 0), (10, 10), (0, 10)])
    ring = cut(square, (10.0, 0.0), "rounded", 10.0)
    assert len(ring.segments) == 3
    assert signed_area(ring) == pytest.approx(math.pi * 25.0)


def test_faults() -> None:
    assert with_corner(CARD, (30.0, 0.0), "rounded", 4.0) == "none"
    assert with_corner(CARD, (0.0, 0.0), "rounded", 40.5) == "too large"
    assert with_corner(circle((0.0, 0.0), 5.0), (-5.0, 0.0), "bevelled", 1.0) == "curved"
    assert reach_of(CARD, (0.0, 0.0)) == 40.0
    assert reach_of(CARD, (1.0, 0.0)) == 0.0
    assert len(corners_of(ELL)) == 6
    assert corners_of(circle((0.0, 0.0), 5.0)) == ()
