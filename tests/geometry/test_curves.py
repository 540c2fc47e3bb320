"""Cubic curves as arcs: near enough, without corners, few."""

from __future__ import annotations

import itertools
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from publisher.geometry.curves import CURVE_MM, cubic_arcs, cubic_point, quadratic_arcs
from publisher.geometry.path import Arc, Line
from publisher.geometry.segments import direction_at, nearest_on

# A quarter of a circle of radius 40 as it is usually drawn: handles of 4/3 tan(22.5 degrees).
K = 40.0 * 4.0 / 3.0 * math.tan(math.radians(22.5))
QUARTER = ((40.0, 0.0), (40.0, K), (K, 40.0), (0.0, 40.0))
NUMBER = st.floats(-100.0, 100.0)
POINT = st.tuples(NUMBER, NUMBER)


def test_a_quarter_circle_comes_out_as_one_circle() -> None:
    found = cubic_arcs(QUARTER)
    # The cubic strays 2.7e-4 of its radius from the circle: R. L. Goldapp, CAGD 8 (1991).
    for arc in found:
        assert isinstance(arc, Arc)
        assert arc.radius_mm == pytest.approx(40.0, rel=0.02)
    assert sum(s.length_mm for s in found) == pytest.approx(20.0 * math.pi, abs=0.02)
    assert len(found) <= 8


def test_what_is_straight_stays_a_line() -> None:
    assert cubic_arcs(((0, 0), (1, 0), (2, 0), (3, 0))) == [Line((0, 0), (3, 0))]
    assert cubic_arcs(((5, 5), (5, 5), (5, 5), (5, 5))) == []


def test_a_wave_turns_both_ways_and_has_no_corner() -> None:
    found = cubic_arcs(((0, 0), (20, -30), (40, 30), (60, 0)))
    assert {s.clockwise for s in found if isinstance(s, Arc)} == {True, False}
    for a, b in itertools.pairwise(found):
        assert a.end == b.start
        assert direction_at(a, 1.0) == pytest.approx(direction_at(b, 0.0), abs=1e-6)


@given(POINT, POINT, POINT, POINT)
def test_any_curve_is_followed(a: tuple, b: tuple, c: tuple, d: tuple) -> None:
    curve = (a, b, c, d)
    found = cubic_arcs(curve)
    assert len(found) <= 2**11
    if found:
        assert (found[0].start, found[-1].end) == (a, d)
    for i in range(33):
        p = cubic_point(curve, i / 32)
        away = min((math.dist(nearest_on(s, p), p) for s in found), default=0.0)
        assert away <= 3.0 * CURVE_MM


def test_a_huge_curve_is_as_fine_as_its_size_needs() -> None:
    """Letters a hundred metres wide are nobody's, and answered all the same."""
    small = quadratic_arcs((0.0, 0.0), (50.0, 80.0), (100.0, 0.0))
    huge = quadratic_arcs((0.0, 0.0), (50e3, 80e3), (100e3, 0.0))
    assert len(small) <= len(huge) < 20 * len(small)
