from __future__ import annotations

import math

import pytest
import shapely

from publisher.drawing.hatch import LEVEL, Dots, Plane, area_of, dots_in, hatch_lines
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


def _inked(dots: Dots) -> shapely.Geometry:
    a, b, c, d, _, _ = dots.plane
    turn = [2.0 * math.pi * k / 64 for k in range(64)]
    rim = [(dots.radius_mm * math.cos(t), dots.radius_mm * math.sin(t)) for t in turn]
    whole = [
        shapely.Polygon([(x + a * u + b * v, y + c * u + d * v) for u, v in rim])
        for x, y in dots.centres
    ]
    return shapely.union_all([*whole, *(area_of((ring,)) for ring in dots.cut)])


@pytest.mark.parametrize("plane", [LEVEL, (0.9, 0.3, -0.1, 0.5, 3.0, -2.0)])
def test_dots_stay_inside_and_keep_their_share(plane: Plane) -> None:
    dots = dots_in((SQUARE, HOLE), 2.0, 0.45, plane)
    area = area_of((SQUARE, HOLE))
    inked = _inked(dots)
    assert area.buffer(0.02).contains(inked)
    share = math.pi * 0.45**2 / (2.0 * 2.0 * math.sqrt(3.0) / 2.0)
    assert inked.area / area.area == pytest.approx(share, rel=0.12)


def test_dots_lie_on_their_plane() -> None:
    plane = (0.8, 0.0, 0.0, 0.4, 0.0, 0.0)
    dots = dots_in((SQUARE,), 2.0, 0.45, plane)
    assert dots.axes == pytest.approx((0.36, 0.18, 0.0))
    rows = sorted({round(y, 6) for _, y in dots.centres})
    assert rows[1] - rows[0] == pytest.approx(0.4 * 2.0 * math.sqrt(3.0) / 2.0)


def test_nothing_gives_nothing() -> None:
    assert hatch_lines((), 1.0, 45.0) == ()
    assert dots_in((), 1.0, 0.2).centres == ()
