from __future__ import annotations

import math

import pytest
import shapely

from publisher.drawing.hatch import area_of, dot_paths, hatch_lines
from publisher.geometry.path import circle, polygon

SQUARE = polygon(((0.0, 0.0), (20.0, 0.0), (20.0, 10.0), (0.0, 10.0)))
HOLE = circle((10.0, 5.0), 3.0)


def test_even_odd_leaves_holes() -> None:
    assert area_of((SQUARE, HOLE)).area == pytest.approx(200.0 - math.pi * 9.0, abs=0.3)


@pytest.mark.parametrize("turn", [0.0, 30.0, 45.0, 90.0, -45.0, 135.0])
def test_lines_stay_inside_and_cover_evenly(turn: float) -> None:
    rings = (SQUARE, HOLE)
    area = area_of(rings)
    lines = hatch_lines(rings, 1.3, turn)
    for line in lines:
        dx, dy = line.end[0] - line.start[0], line.end[1] - line.start[1]
        assert math.degrees(math.atan2(-dy, dx)) % 180.0 == pytest.approx(turn % 180.0)
        assert area.buffer(0.01).contains(shapely.LineString([line.start, line.end]))
    # Lines one spacing apart: their length times the spacing is about the area.
    assert sum(line.length_mm for line in lines) * 1.3 == pytest.approx(area.area, rel=0.06)


def test_neighbours_hatch_alike() -> None:
    left = polygon(((0.0, 0.0), (5.0, 0.0), (5.0, 10.0), (0.0, 10.0)))
    right = polygon(((5.0, 0.0), (9.0, 0.0), (9.0, 10.0), (5.0, 10.0)))
    ends = {
        (round(p[0], 6), round(p[1], 6))
        for ln in hatch_lines((left,), 1.3, 45.0)
        for p in (ln.start, ln.end)
        if abs(p[0] - 5.0) < 1e-9
    }
    starts = {
        (round(p[0], 6), round(p[1], 6))
        for ln in hatch_lines((right,), 1.3, 45.0)
        for p in (ln.start, ln.end)
        if abs(p[0] - 5.0) < 1e-9
    }
    assert len(ends & starts) >= 5


def test_dots_stay_inside_and_keep_their_share() -> None:
    dots = dot_paths((SQUARE, HOLE), 4.0, 0.45)
    area = area_of((SQUARE, HOLE))
    inked = shapely.union_all([area_of((d,)) for d in dots])
    assert area.buffer(0.02).contains(inked)
    share = math.pi * 0.45**2 / (4.0 * 4.0 * math.sqrt(3.0) / 2.0)
    assert inked.area / area.area == pytest.approx(share, rel=0.25)


def test_nothing_gives_nothing() -> None:
    assert hatch_lines((), 1.0, 45.0) == ()
    assert dot_paths((), 1.0, 0.2) == ()
