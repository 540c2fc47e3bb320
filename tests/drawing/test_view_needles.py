"""Needles and slits, which are left between edges that all but fall on each other."""

from __future__ import annotations

import shapely
from shapely import Polygon

from publisher.drawing.space_view.needles import needled

SQUARE = shapely.box(0, 0, 10, 10)
NEEDLE = Polygon([(0, 0), (10, 0), (10, 5), (30, 5), (10, 5.0001), (10, 10), (0, 10)])
BLUNT = Polygon([(0, 0), (10, 0), (10, 5), (30, 5), (30, 5.0001), (10, 5.0001), (10, 10), (0, 10)])
SLIT = Polygon([(0, 0), (10, 0), (10, 5), (4, 5), (10, 5.0001), (10, 10), (0, 10)])
CORNER = Polygon([(0, 0), (10, 0), (10, 1)])  # one in ten: sharp, and no needle


def turned(area: Polygon, by: int) -> Polygon:
    """The same area, its ring begun at another corner."""
    points = list(area.exterior.coords)[:-1]
    return Polygon(points[by:] + points[:by])


def test_needles_and_slits_are_found_wherever_the_ring_begins() -> None:
    for area in (NEEDLE, BLUNT, SLIT):
        begun = [turned(area, by) for by in range(len(area.exterior.coords) - 1)]
        assert needled(begun).all()


def test_what_has_none_is_passed_over() -> None:
    hole = SQUARE.difference(shapely.box(2, 2, 4, 4))
    both = shapely.union(SQUARE, shapely.box(20, 0, 30, 10))
    assert not needled([SQUARE, CORNER, hole, both, Polygon()]).any()
    assert not needled([Polygon()]).any()
    assert not needled([]).any()


def test_each_area_answers_for_itself() -> None:
    parts = shapely.multipolygons([SQUARE, shapely.transform(NEEDLE, lambda p: p + 20.0)])
    slit_hole = Polygon(SQUARE.exterior, [[(2, 2), (8, 2), (8, 4), (2, 2.0001)][::-1]])
    assert needled([SQUARE, parts, CORNER, slit_hole]).tolist() == [False, True, False, False]
    thin = Polygon(SQUARE.exterior, [[(2, 2), (2, 2.0001), (8, 2.0001), (8, 2)]])
    assert needled([thin]).all()
