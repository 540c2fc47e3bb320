"""Offsets against closed formulas, and against an independent engine.

Source of the formulas: the Steiner formula for convex bodies (J. Steiner, 1840; in any text on
integral geometry, e.g. Santalo, Integral Geometry and Geometric Probability, I.1): the area of
a convex body of area A and perimeter P grown by d with round corners is A + P d + pi d^2. For
mitred and bevelled corners the corner patches are two right triangles of legs d and
d tan(t/2), or one triangle of area d^2 sin(t) / 2, for a turn t at the corner.
"""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from publisher.geometry.booleans import region_difference, region_union
from publisher.geometry.measure import area, centroid
from publisher.geometry.offset import Corners, offset_region
from publisher.geometry.path import Arc, Point, Region, circle, polygon
from publisher.geometry.shapely_bridge import to_shapely
from publisher.geometry.transform import rotated
from tests.handmade import sleeve, sleeve_mat


def regular(n: int, side: float) -> Region:
    radius = side / 2 / math.sin(math.pi / n)
    turn = [2 * math.pi * i / n for i in range(n)]
    return Region(polygon([(radius * math.cos(a), radius * math.sin(a)) for a in turn]))


def total(regions: tuple[Region, ...]) -> float:
    return sum(area(r) for r in regions)


def perimeter(region: Region) -> float:
    return region.outer.length_mm + sum(h.length_mm for h in region.holes)


# Worked out from the formulas for side 10, outward 2 and inward 1, to four places.
POLYGONS = {
    3: (115.8676, 124.0859, 108.4974, 18.4974),
    4: (192.5664, 196.0, 188.0, 64.0),
    5: (284.6141, 286.5786, 281.5583, 125.6805),
    6: (392.3740, 393.6640, 390.1999, 203.2717),
}


@pytest.mark.parametrize("n", sorted(POLYGONS))
def test_regular_polygons(n: int) -> None:
    shape = regular(n, 10.0)
    a, p, d = area(shape), perimeter(shape), 2.0
    rounded, mitred, bevelled, inward = POLYGONS[n]
    assert total(offset_region(shape, d, "rounded")) == pytest.approx(
        a + p * d + math.pi * d**2, abs=1e-9
    )
    assert total(offset_region(shape, d, "rounded")) == pytest.approx(rounded, abs=5e-5)
    assert total(offset_region(shape, d, "mitred")) == pytest.approx(
        a + p * d + n * math.tan(math.pi / n) * d**2, abs=1e-9
    )
    assert total(offset_region(shape, d, "mitred")) == pytest.approx(mitred, abs=5e-5)
    assert total(offset_region(shape, d, "bevelled")) == pytest.approx(
        a + p * d + n / 2 * math.sin(2 * math.pi / n) * d**2, abs=1e-9
    )
    assert total(offset_region(shape, d, "bevelled")) == pytest.approx(bevelled, abs=5e-5)
    assert total(offset_region(shape, -1.0)) == pytest.approx(inward, abs=5e-5)


L_SHAPE = Region(polygon([(0, 0), (60, 0), (60, 20), (20, 20), (20, 80), (0, 80)]))


def test_the_l_shape() -> None:
    """Five outer corners, one inner: round out A + P d + (5 pi/4 - 1) d^2, and so on."""
    assert (area(L_SHAPE), perimeter(L_SHAPE)) == (2400, 280)
    assert centroid(L_SHAPE) == pytest.approx((20, 30), abs=1e-12)
    assert total(offset_region(L_SHAPE, 2, "rounded")) == pytest.approx(
        2400 + 560 + (5 * math.pi / 4 - 1) * 4, abs=1e-9
    )
    assert total(offset_region(L_SHAPE, 2, "mitred")) == pytest.approx(2976, abs=1e-9)
    assert total(offset_region(L_SHAPE, -2, "mitred")) == pytest.approx(1856, abs=1e-9)
    assert total(offset_region(L_SHAPE, -2, "rounded")) == pytest.approx(
        2400 - 560 + (5 - math.pi / 4) * 4, abs=1e-9
    )


def test_a_disc_grows_and_shrinks_to_discs() -> None:
    disc = Region(circle((3, 4), 10))
    assert offset_region(disc, 2.5) == (Region(circle((3, 4), 12.5)),)
    assert offset_region(disc, -2.5, "rounded") == (Region(circle((3, 4), 7.5)),)
    assert offset_region(disc, -10) == ()
    assert offset_region(disc, -11) == ()


def test_a_hole_shrinks_as_the_paper_grows() -> None:
    ring = Region(circle((0, 0), 10), (circle((0, 0), 4),))
    assert total(offset_region(ring, 1)) == pytest.approx(math.pi * (121 - 9), abs=1e-9)
    assert total(offset_region(ring, 4)) == pytest.approx(math.pi * 196, abs=1e-9)
    assert total(offset_region(ring, -1)) == pytest.approx(math.pi * (81 - 25), abs=1e-9)
    assert offset_region(ring, -3) == ()


def test_a_mat_follows_the_notches_with_the_same_centres() -> None:
    """Panel 1 of the sleeve drawn in by 4: its notches of 12 become 16 about the same centre.

    Worked out by hand in tests/handmade.py: no engine was asked.
    """
    (mat,) = offset_region(sleeve().facets[0].region, -4.0)
    arcs = [s for s in mat.outer.segments if isinstance(s, Arc)]
    assert len(arcs) == 2
    for arc in arcs:
        assert arc.radius_mm == pytest.approx(16.0, abs=1e-9)
        assert arc.centre[0] in (0.0, 124.8)
    assert area(mat) == pytest.approx(area(sleeve_mat().outline), abs=1e-9)


def test_shrinking_through_a_neck_leaves_two() -> None:
    blocks = [(0.0, 0.0, 20.0, 20.0), (20.0, 8.0, 10.0, 4.0), (30.0, 0.0, 20.0, 20.0)]
    shape = region_union(
        Region(polygon([(x, y), (x + w, y), (x + w, y + h), (x, y + h)])) for x, y, w, h in blocks
    )[0]
    assert [area(r) for r in offset_region(shape, -3.0)] == pytest.approx([196.0, 196.0])


def test_a_very_sharp_corner_is_bevelled_not_prolonged() -> None:
    needle = Region(polygon([(0, 0), (100, 4), (0, 8)]))
    (grown,) = offset_region(needle, 2.0, "mitred")
    assert max(s.start[0] for s in grown.outer.segments) < 103


SHAPES = st.sampled_from(
    [
        regular(5, 9.0),
        L_SHAPE,
        sleeve().outline,
        sleeve_mat().outline,
        region_difference(regular(4, 40.0), Region(circle((5, 5), 4)))[0],
        region_union([Region(circle((0, 0), 9)), Region(circle((12, 3), 7))])[0],
        region_difference(Region(circle((0, 0), 30)), Region(circle((28, 0), 12)))[0],
    ]
)


@settings(max_examples=120, deadline=None)
@given(SHAPES, st.integers(-60, 60).filter(bool).map(lambda n: n / 7), st.sampled_from([0.0, 11.0]))
def test_rounded_offsets_agree_with_an_engine_on_chords(
    shape: Region, by: float, turn: float
) -> None:
    """GEOS buffers of the same shape with arcs as fine chords."""
    shape = rotated(shape, turn)
    reference = to_shapely(shape, 1e-4).buffer(by, quad_segs=512).area
    assert total(offset_region(shape, by, "rounded")) == pytest.approx(reference, abs=0.05)


@settings(max_examples=60, deadline=None)
@given(SHAPES, st.integers(1, 40).map(lambda n: n / 9))
def test_kinds_of_corners_lie_in_order(shape: Region, by: float) -> None:
    kinds: tuple[Corners, ...] = ("bevelled", "rounded", "mitred")
    bevelled, rounded, mitred = (total(offset_region(shape, by, kind)) for kind in kinds)
    assert area(shape) < bevelled <= rounded + 1e-6
    assert rounded <= mitred + 1e-6


@settings(max_examples=60, deadline=None)
@given(
    st.lists(
        st.tuples(st.integers(0, 30), st.integers(0, 30)), min_size=3, max_size=8, unique=True
    ),
    st.integers(1, 40).map(lambda n: n / 8),
)
def test_steiner_for_random_convex_shapes(points: list[Point], by: float) -> None:
    from shapely.geometry import MultiPoint

    hull = MultiPoint(points).convex_hull
    if hull.geom_type != "Polygon":
        return
    shape = Region(polygon([(float(x), float(y)) for x, y in list(hull.exterior.coords)[:-1]]))
    expected = hull.area + hull.length * by + math.pi * by**2
    assert total(offset_region(shape, by, "rounded")) == pytest.approx(expected, abs=1e-6)
