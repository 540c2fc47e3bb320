"""Shapes against their definitions and against other people's programs for paths."""

from __future__ import annotations

import math

import pytest
import svgelements
import svgpathtools

from publisher.drawing.svg import path_data
from publisher.geometry.flatten import flattened
from publisher.geometry.measure import path_bounds, signed_area
from publisher.geometry.path import Path, circle
from publisher.geometry.shapes import (
    arc_by_rise,
    ellipse_ring,
    half_round_ring,
    radius_of_side,
    regular_corners,
    ring_of,
    star_corners,
    star_inner,
)

# Areas of regular polygons with side 1: n / (4 tan(pi / n)); the table is in the Wikipedia
# article "Regular polygon" (from memory): 0.433, 1, 1.720, 2.598, 3.634, 4.828.
SIDE_ONE = {3: 0.4330127, 4: 1.0, 5: 1.7204774, 6: 2.5980762, 7: 3.6339124, 8: 4.8284271}


@pytest.mark.parametrize("count", sorted(SIDE_ONE))
def test_area_of_regular_polygons(count: int) -> None:
    ring = ring_of(regular_corners(count, radius_of_side(count, 1.0)))
    assert signed_area(ring) == pytest.approx(SIDE_ONE[count], abs=1e-6)
    assert all(s.length_mm == pytest.approx(1.0) for s in ring.segments)


def test_a_hexagon_is_as_far_across_as_twice_its_side() -> None:
    # Euclid, Elements IV.15, porism: the side of the hexagon is the circle's radius.
    assert radius_of_side(6, 17.0) == pytest.approx(17.0)


def test_the_pentagram_is_cut_in_the_golden_ratio() -> None:
    # In a pentagram each crossing cuts a side in the golden ratio (Euclid XIII.8), so tip to
    # notch is to notch to notch as phi is to 1.
    corners = star_corners(5, 10.0, star_inner(5, 10.0))
    arm = math.dist(corners[0], corners[1])
    core = math.dist(corners[1], corners[3])
    assert arm / core == pytest.approx((1.0 + math.sqrt(5.0)) / 2.0)
    # Its angle at each tip is 36 degrees.
    assert math.dist(corners[1], corners[9]) == pytest.approx(
        2.0 * arm * math.sin(math.radians(18.0))
    )


def test_the_hexagram_is_two_triangles() -> None:
    # {6/2}: each of its 12 sides is a third of the triangles' sides.
    ring = ring_of(star_corners(6, 10.0, star_inner(6, 10.0)))
    side = 10.0 * math.sqrt(3.0)
    assert all(s.length_mm == pytest.approx(side / 3.0) for s in ring.segments)
    assert signed_area(ring) == pytest.approx(math.sqrt(3.0) / 4.0 * side**2 * 4.0 / 3.0)


@pytest.mark.parametrize(
    ("width", "height"), [(60.0, 40.0), (148.0, 105.0), (200.0, 8.0), (5.0, 3.0)]
)
def test_an_ellipse_of_arcs_stays_within_two_hundredths(width: float, height: float) -> None:
    a, b = width / 2.0, height / 2.0
    ring = ellipse_ring(width, height)
    for x, y in flattened(ring, 0.0005):
        # The nearest point by Newton's method on the parameter, from a start by angle.
        t = math.atan2(y / b, x / a)
        for _ in range(30):
            px, py = a * math.cos(t), b * math.sin(t)
            dx, dy = -a * math.sin(t), b * math.cos(t)
            slope = dx * dx + dy * dy + (px - x) * -px + (py - y) * -py
            t -= ((px - x) * dx + (py - y) * dy) / slope
        assert math.dist((x, y), (a * math.cos(t), b * math.sin(t))) <= 0.02
    assert signed_area(ring) == pytest.approx(math.pi * a * b, rel=2e-3)


@pytest.mark.parametrize(("width", "height"), [(60.0, 40.0), (200.0, 8.0)])
def test_ellipse_girth_against_scipys_integral(width: float, height: float) -> None:
    special = pytest.importorskip("scipy.special")
    a, b = max(width, height) / 2.0, min(width, height) / 2.0
    girth = 4.0 * a * float(special.ellipe(1.0 - (b / a) ** 2))
    assert ellipse_ring(width, height).length_mm == pytest.approx(girth, rel=5e-4)


RINGS: list[Path] = [
    circle((3.0, -2.0), 12.5),
    ellipse_ring(60.0, 40.0),
    half_round_ring(24.0, 12.0),
    half_round_ring(24.0, 30.0),
    half_round_ring(24.0, 5.0),
]


@pytest.mark.parametrize("number", range(len(RINGS)))
def test_arcs_against_two_readers_of_svg_paths(number: int) -> None:
    ring = RINGS[number]
    data = path_data([ring])
    other = svgelements.Path(data)
    assert other.length(error=1e-7) == pytest.approx(ring.length_mm, abs=0.01)
    assert other.bbox() == pytest.approx(path_bounds(ring), abs=0.002)
    third = svgpathtools.parse_path(data)
    assert third.length(error=1e-6) == pytest.approx(ring.length_mm, abs=0.01)


def test_rise_and_radius_against_a_worked_example() -> None:
    # The pillow box's end: chord 80, rise 20 has radius 50 and length 92.7 (2 r asin(c / 2r)).
    arc = arc_by_rise((0.0, 0.0), (80.0, 0.0), 20.0)
    assert arc.length_mm == pytest.approx(2.0 * 50.0 * math.asin(0.8), abs=1e-9)
    assert arc.length_mm == pytest.approx(92.7, abs=0.05)
