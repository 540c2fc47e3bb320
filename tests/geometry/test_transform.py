"""Moving, turning, mirroring."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from publisher.geometry.measure import area, path_bounds, signed_area
from publisher.geometry.path import Arc, Line, Path, Region, circle, polygon
from publisher.geometry.transform import mirrored, rotated, translated
from tests.handmade import sleeve

HALF_ROUND = Path((Arc((0, 0), (10, 0), (5, 0), True), Line((10, 0), (0, 0))), closed=True)


def test_a_quarter_turn_is_clockwise_as_seen_and_exact() -> None:
    assert rotated(Path((Line((1, 0), (3, 0)),), False), 90).segments == (Line((0, 1), (0, 3)),)
    assert rotated(HALF_ROUND, 360) == HALF_ROUND
    assert rotated(rotated(HALF_ROUND, 90, (3, 4)), -90, (3, 4)) == HALF_ROUND


def test_turning_keeps_the_sense_of_arcs_and_the_area() -> None:
    turned = rotated(HALF_ROUND, 33.0, (1, 2))
    assert isinstance(turned.segments[0], Arc)
    assert turned.segments[0].clockwise
    assert signed_area(turned) == pytest.approx(signed_area(HALF_ROUND), abs=1e-12)


def test_mirroring_a_path_turns_its_arcs_round() -> None:
    other = mirrored(HALF_ROUND, at=(5, 0))
    assert other.segments[0] == Arc((10, 0), (0, 0), (5, 0), False)
    assert signed_area(other) == pytest.approx(-signed_area(HALF_ROUND))


def test_mirroring_a_region_keeps_the_senses_of_its_rings() -> None:
    ring = Region(polygon([(0, 0), (20, 0), (20, 10), (0, 10)]), ())
    other = mirrored(ring, at=(0, 0), along=(1, 0))
    assert signed_area(other.outer) == 200
    assert path_bounds(other.outer) == (0, -10, 20, 0)
    twice = mirrored(mirrored(sleeve().outline, (3, 0), (1, 1)), (3, 0), (1, 1))
    assert area(twice) == pytest.approx(area(sleeve().outline), abs=1e-9)


@given(st.floats(-500, 500), st.floats(-500, 500), st.floats(-720, 720))
def test_rigid_motion_keeps_lengths_and_areas(dx: float, dy: float, turn: float) -> None:
    ring = circle((3, 4), 2)
    moved = rotated(translated(ring, dx, dy), turn)
    assert moved.length_mm == pytest.approx(4 * math.pi, abs=1e-6)
    assert signed_area(moved) == pytest.approx(4 * math.pi, abs=1e-6)
