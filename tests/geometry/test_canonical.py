"""One way to write a ring."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from publisher.geometry.canonical import canonical_path, canonical_region
from publisher.geometry.measure import signed_area
from publisher.geometry.path import Arc, Line, Path, Region, circle, polygon
from publisher.geometry.segments import reversed_path
from tests.handmade import sleeve, sleeve_mat

SQUARE = polygon([(0, 0), (10, 0), (10, 10), (0, 10)])


def turned_start(ring: Path, by: int) -> Path:
    n = by % len(ring.segments)
    return Path(ring.segments[n:] + ring.segments[:n], True)


@pytest.mark.parametrize("by", range(4))
def test_starts_topmost_then_leftmost(by: int) -> None:
    assert canonical_path(turned_start(SQUARE, by)) == SQUARE


def test_straight_runs_and_zero_lengths_go() -> None:
    ring = polygon([(5, 0), (10, 0), (10, 4), (10, 4), (10, 10), (5, 10), (0, 10), (0, 0), (2, 0)])
    assert canonical_path(ring) == SQUARE


def test_a_spike_is_no_straight_run() -> None:
    spike = Path((Line((0, 0), (10, 0)), Line((10, 0), (5, 0))), closed=False)
    assert canonical_path(spike) == spike


def test_arcs_on_one_circle_join_and_a_circle_starts_left() -> None:
    quarter = [Arc((0, -5), (5, 0), (0, 0), True), Arc((5, 0), (0, 5), (0, 0), True)]
    joined = canonical_path(Path(tuple(quarter), closed=False))
    assert joined.segments == (Arc((0, -5), (0, 5), (0, 0), True),)
    thirds = [(5 * math.cos(a), 5 * math.sin(a)) for a in (0.3, 2.4, 4.5)]
    parts = tuple(
        Arc(a, b, (0, 0), True) for a, b in zip(thirds, thirds[1:] + thirds[:1], strict=True)
    )
    ring = canonical_path(Path(parts, True))
    assert len(ring.segments) == 2
    assert ring.start == pytest.approx((-5, 0), abs=1e-12)
    assert signed_area(ring) == pytest.approx(25 * math.pi, abs=1e-9)


def test_direction_of_rings() -> None:
    region = canonical_region(Region(reversed_path(SQUARE), (circle((5, 5), 2),)))
    assert region.outer == SQUARE
    assert signed_area(region.holes[0]) < 0


@given(st.integers(0, 11), st.booleans())
def test_any_writing_of_a_notched_outline_is_one(by: int, back: bool) -> None:
    for piece in (sleeve(), sleeve_mat()):
        ring = piece.outline.outer
        other = turned_start(reversed_path(ring) if back else ring, by)
        assert canonical_region(Region(other)) == canonical_region(piece.outline)
