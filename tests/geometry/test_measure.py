"""Areas, balance, distances and what lies inside."""

from __future__ import annotations

import math
import random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from publisher.geometry.booleans import region_difference
from publisher.geometry.measure import (
    area,
    centroid,
    distance_inside,
    distance_to_path,
    is_inside,
    is_near,
    path_bounds,
    winding,
)
from publisher.geometry.path import Arc, Line, Path, Point, Region, circle, polygon
from publisher.geometry.shapely_bridge import to_shapely
from tests.handmade import sleeve

RING = Region(circle((0, 0), 10), (circle((0, 0), 4),))
HALF = Region(Path((Arc((-10, 0), (10, 0), (0, 0), True), Line((10, 0), (-10, 0))), True))


def test_area_of_a_ring() -> None:
    assert area(RING) == pytest.approx(84 * math.pi, abs=1e-9)


def test_a_half_disc_balances_at_4r_over_3pi() -> None:
    assert centroid(HALF) == pytest.approx((0, -40 / (3 * math.pi)), abs=1e-12)


def test_balance_agrees_with_chords() -> None:
    shape = region_difference(sleeve().outline, Region(circle((30, 30), 9)))[0]
    reference = to_shapely(shape, 1e-6).centroid
    assert centroid(shape) == pytest.approx((reference.x, reference.y), abs=1e-5)


def test_bounds_take_the_bulge_of_an_arc() -> None:
    assert path_bounds(HALF.outer) == pytest.approx((-10, -10, 10, 0), abs=1e-12)


def test_distance_to_an_arc_and_past_its_ends() -> None:
    arc = Path((Arc((-10, 0), (10, 0), (0, 0), True),), False)
    assert distance_to_path((0, -13), arc) == pytest.approx(3)
    assert distance_to_path((0, 0), arc) == pytest.approx(10)
    assert distance_to_path((10, 4), arc) == pytest.approx(4)


@pytest.mark.parametrize(
    ("point", "inside"),
    [((7, 0), True), ((0, 0), False), ((11, 0), False), ((4, 0), True), ((0, 10), True)],
)
def test_inside_a_ring(point: Point, inside: bool) -> None:
    assert is_inside(RING, point) is inside


def test_distance_inside_has_a_sign() -> None:
    assert distance_inside(RING, (7, 0)) == pytest.approx(3)
    assert distance_inside(RING, (0, 0)) == pytest.approx(-4)
    assert distance_inside(RING, (12, 0)) == pytest.approx(-2)


def test_winding_counts_turns() -> None:
    square = polygon([(0, 0), (2, 0), (2, 2), (0, 2)])
    twice = Path(square.segments + square.segments, True)
    assert winding((1, 1), twice) == 2
    assert winding((3, 1), twice) == 0


@given(st.floats(-12, 12), st.floats(-12, 12))
def test_inside_agrees_with_chords(x: float, y: float) -> None:
    from shapely.geometry import Point as ShapelyPoint

    reference = to_shapely(HALF, 1e-7)
    if reference.exterior.distance(ShapelyPoint(x, y)) > 1e-5:
        assert is_inside(HALF, (x, y)) == reference.contains(ShapelyPoint(x, y))


def test_near_is_what_the_distance_says() -> None:
    bow = Arc((10.0, 0.0), (10.0, 10.0), (10.0, 5.0), clockwise=True)
    path = Path((Line((0.0, 0.0), (10.0, 0.0)), bow, Line((10.0, 10.0), (0.0, 12.0))), False)
    luck = random.Random(5)
    for _ in range(2000):
        point = (luck.uniform(-3.0, 18.0), luck.uniform(-3.0, 15.0))
        within = luck.uniform(0.0, 3.0)
        assert is_near(point, path, within) == (distance_to_path(point, path) <= within)
