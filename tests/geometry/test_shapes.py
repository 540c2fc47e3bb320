"""Shapes about their own middle: closed, clockwise, where they are said to be."""

from __future__ import annotations

import math

import pytest

from publisher.geometry.measure import path_bounds, signed_area
from publisher.geometry.path import Arc, Path
from publisher.geometry.segments import direction_at, point_at
from publisher.geometry.shapes import (
    arc_by_rise,
    arc_through,
    ellipse_ring,
    half_round_ring,
    regular_corners,
    ring_of,
    star_corners,
    star_inner,
)
from publisher.geometry.simple import crosses_itself


def closed(ring: Path) -> bool:
    segments = ring.segments
    return all(
        math.dist(a.end, b.start) < 1e-9
        for a, b in zip(segments, segments[1:] + segments[:1], strict=True)
    )


@pytest.mark.parametrize("count", [3, 4, 5, 6, 7, 8, 12])
def test_a_regular_polygon_stands_on_a_level_side(count: int) -> None:
    corners = regular_corners(count, 10.0)
    low = max(y for _, y in corners)
    assert sum(abs(y - low) < 1e-9 for _, y in corners) == 2
    assert signed_area(ring_of(corners)) > 0.0


@pytest.mark.parametrize("count", [3, 4, 5, 6, 9])
def test_a_star_points_up(count: int) -> None:
    ring = ring_of(star_corners(count, 10.0, 4.0))
    assert path_bounds(ring)[1] == pytest.approx(-10.0)
    assert len(ring.segments) == 2 * count


def test_a_five_pointed_star_has_straight_sides_from_tip_to_tip() -> None:
    corners = star_corners(5, 10.0, star_inner(5, 10.0))
    # Tip 0, notches 1 and 3, tip 4 lie in one line.
    (x0, y0), (x1, y1), (x3, y3), (x4, y4) = (corners[i] for i in (0, 1, 3, 4))
    for x, y in ((x1, y1), (x3, y3)):
        assert (x4 - x0) * (y - y0) - (y4 - y0) * (x - x0) == pytest.approx(0.0, abs=1e-9)


@pytest.mark.parametrize(
    ("width", "height"), [(60.0, 40.0), (10.0, 80.0), (100.0, 4.0), (9.0, 9.0)]
)
def test_an_ellipse_runs_on_without_a_corner(width: float, height: float) -> None:
    ring = ellipse_ring(width, height)
    assert closed(ring)
    segments = ring.segments
    for a, b in zip(segments, segments[1:] + segments[:1], strict=True):
        u, v = direction_at(a, 1.0), direction_at(b, 0.0)
        assert u[0] * v[1] - u[1] * v[0] == pytest.approx(0.0, abs=1e-6)
    x0, y0, x1, y1 = path_bounds(ring)
    assert (x1 - x0, y1 - y0) == pytest.approx((width, height))


def test_a_half_round_is_a_half_circle_or_deeper_or_flatter() -> None:
    assert signed_area(half_round_ring(20.0, 10.0)) == pytest.approx(math.pi * 50.0)
    assert signed_area(half_round_ring(20.0, 15.0)) == pytest.approx(math.pi * 50.0 + 100.0)
    flat = half_round_ring(20.0, 4.0)
    assert path_bounds(flat) == pytest.approx((-10.0, -2.0, 10.0, 2.0))
    assert closed(flat)


def test_an_arc_rises_on_the_left_of_the_way() -> None:
    arc = arc_by_rise((0.0, 0.0), (40.0, 0.0), 8.0)
    assert isinstance(arc, Arc)
    assert point_at(arc, 0.5) == pytest.approx((20.0, -8.0))
    inward = arc_by_rise((0.0, 0.0), (40.0, 0.0), -8.0)
    assert point_at(inward, 0.5) == pytest.approx((20.0, 8.0))


def test_an_arc_goes_through_its_point() -> None:
    arc = arc_through((0.0, 0.0), (30.0, -12.0), (40.0, 0.0))
    assert isinstance(arc, Arc)
    assert math.dist(arc.centre, (30.0, -12.0)) == pytest.approx(arc.radius_mm)
    assert arc.clockwise


def test_a_bow_tie_crosses_itself_and_a_star_does_not() -> None:
    bow = ring_of([(0.0, 0.0), (10.0, 10.0), (10.0, 0.0), (0.0, 10.0)])
    assert crosses_itself(bow)
    assert not crosses_itself(ring_of(star_corners(5, 10.0, 4.0)))
    spike = ring_of([(0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (10.0, 4.0), (0.0, 4.0)])
    assert crosses_itself(spike)
    touching = ring_of([(0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (5.0, 0.0), (0.0, 10.0)])
    assert crosses_itself(touching)


@pytest.mark.parametrize("share", [1 / 3, 3.0, 0.5, 2.0, 0.999])
def test_ellipses_of_any_shape(share: float) -> None:
    """At 1 to 3 one arc of the first try is a straight line."""
    ring = ellipse_ring(90.0 * share, 90.0)
    for segment in ring.segments:
        x, y = segment.start
        assert math.hypot(x / (45.0 * share), y / 45.0) == pytest.approx(1.0, abs=1e-3)
    # Its area is pi a b (from memory: Archimedes).
    assert abs(signed_area(ring)) == pytest.approx(math.pi * 45.0 * 45.0 * share, rel=1e-3)
