"""Lines that a blade can follow."""

from __future__ import annotations

import itertools
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from publisher.cutfiles.clean import CHORD_MM, FIT_MM, NODE_MM, cleaned
from publisher.geometry.measure import distance_to_path, signed_area
from publisher.geometry.path import Arc, Line, Path, polygon


def test_straight_runs_are_one_line() -> None:
    ring = polygon([(0.0, 0.0), (10.0, 0.0), (20.0, 0.0), (20.0, 5.0), (20.0, 10.0), (0.0, 10.0)])
    assert len(cleaned(ring).segments) == 4


def test_a_step_too_small_to_cut_is_taken_out() -> None:
    ring = polygon([(0.0, 0.0), (20.0, 0.0), (20.0, 10.0), (10.0, 10.0), (10.0, 9.97), (0.0, 9.97)])
    clean = cleaned(ring)
    assert min(s.length_mm for s in clean.segments) >= NODE_MM
    assert all(distance_to_path(s.start, ring) <= NODE_MM / 2 + 1e-9 for s in clean.segments)
    assert abs(signed_area(clean) - signed_area(ring)) < 0.5


def test_the_ends_of_an_open_line_stay() -> None:
    path = Path(
        (Line((0, 0), (0.02, 0.02)), Line((0.02, 0.02), (9, 1)), Line((9, 1), (9.01, 1.03))), False
    )
    clean = cleaned(path)
    assert (clean.start, clean.end) == (path.start, path.end)
    assert len(clean.segments) == 1


def test_an_arc_whose_end_moves_stays_an_arc() -> None:
    arc = Arc((0, 0), (10, 0), (5, 0), clockwise=True)
    path = Path((arc, Line((10, 0), (10.03, 0)), Line((10.03, 0), (30, -4))), False)
    first, second = cleaned(path).segments
    assert isinstance(first, Arc)
    assert first.end == second.start == pytest.approx((10.015, 0), abs=1e-9)
    assert math.dist(first.end, first.centre) == pytest.approx(first.radius_mm, abs=1e-9)


@pytest.mark.parametrize(("radius", "count"), [(4.0, 120), (20.0, 240), (100.0, 400)])
def test_a_circle_of_short_lines_becomes_few_arcs(radius: float, count: int) -> None:
    ring = polygon(
        [
            (radius * math.cos(2 * math.pi * n / count), radius * math.sin(2 * math.pi * n / count))
            for n in range(count)
        ]
    )
    clean = cleaned(ring)
    assert len(clean.segments) <= 4
    assert sum(isinstance(s, Arc) for s in clean.segments) >= 2
    for point in (s.start for s in ring.segments):
        assert distance_to_path(point, clean) <= FIT_MM + 1e-9


@pytest.mark.parametrize("sides", [3, 4, 6, 8, 12, 16])
def test_a_polygon_that_is_meant_stays_one(sides: int) -> None:
    ring = polygon(
        [
            (9 * math.cos(2 * math.pi * n / sides), 9 * math.sin(2 * math.pi * n / sides))
            for n in range(sides)
        ]
    )
    assert [type(s) for s in cleaned(ring).segments] == [Line] * sides


@given(st.lists(st.tuples(st.floats(-50, 50), st.floats(-50, 50)), min_size=3, max_size=40))
def test_whatever_comes_nothing_is_too_close_or_far_off(
    given_points: list[tuple[float, float]],
) -> None:
    corners = [p for n, p in enumerate(given_points) if p not in given_points[:n]]
    path = Path(tuple(Line(a, b) for a, b in itertools.pairwise(corners)), False)
    if len(corners) < 2 or path.length_mm < 1.0:
        return
    clean = cleaned(path)
    if len(clean.segments) > 1:
        assert min(s.length_mm for s in clean.segments) >= NODE_MM - 1e-9
    # Each node that is left out moves the line by half of the least distance at most.
    gone = len(path.segments) - len(clean.segments)
    for segment in clean.segments:
        off = distance_to_path(segment.start, path)
        assert off <= CHORD_MM + gone * NODE_MM / 2
