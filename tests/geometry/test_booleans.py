"""Union, difference, intersection, division and clipping, arcs kept."""

from __future__ import annotations

import itertools
import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from publisher.geometry.booleans import (
    clip_path,
    region_difference,
    region_intersection,
    region_union,
    split_region,
)
from publisher.geometry.measure import area, signed_area
from publisher.geometry.path import Arc, Line, Path, Region, circle, polygon
from publisher.geometry.shapely_bridge import to_shapely
from publisher.geometry.transform import rotated, translated


def rectangle(x: float, y: float, w: float, h: float) -> Region:
    return Region(polygon([(x, y), (x + w, y), (x + w, y + h), (x, y + h)]))


def disc(x: float, y: float, r: float) -> Region:
    return Region(circle((x, y), r))


def arcs(*regions: Region) -> list[Arc]:
    rings = [ring for r in regions for ring in (r.outer, *r.holes)]
    return [s for ring in rings for s in ring.segments if isinstance(s, Arc)]


def total(regions: tuple[Region, ...]) -> float:
    return sum(area(r) for r in regions)


# ---------------------------------------------------------------- known answers


def test_panels_that_share_an_edge_become_one_rectangle() -> None:
    (one,) = region_union([rectangle(0, 0, 10, 10), rectangle(10, 0, 10, 10)])
    assert one == Region(polygon([(0, 0), (20, 0), (20, 10), (0, 10)]))


def test_half_round_notch_keeps_its_centre_and_radius() -> None:
    (notched,) = region_difference(rectangle(0, 0, 40, 20), disc(20, 0, 5))
    (notch,) = arcs(notched)
    assert notch == Arc((15.0, 0.0), (25.0, 0.0), (20, 0), clockwise=False)
    assert area(notched) == pytest.approx(800 - math.pi * 25 / 2, abs=1e-9)


def test_a_window_is_a_hole_and_a_second_window_joins_it() -> None:
    (one,) = region_difference(rectangle(0, 0, 40, 20), disc(15, 10, 5))
    (two,) = region_difference(one, disc(20, 10, 5))
    (hole,) = two.holes
    assert signed_area(hole) < 0
    assert {a.centre for a in arcs(two)} == {(15, 10), (20, 10)}
    # A lens of two circles of radius 5, 5 apart: 2 r^2 acos(1/2) - (d/2) sqrt(4 r^2 - d^2).
    lens = 50 * math.acos(0.5) - 2.5 * math.sqrt(75)
    assert area(two) == pytest.approx(800 - 50 * math.pi + lens, abs=1e-9)


def test_an_arc_cut_twice_falls_into_exact_arcs() -> None:
    slot = rectangle(-20, -1, 40, 2)
    parts = region_difference(disc(0, 0, 10), slot)
    assert len(parts) == 2
    for part in parts:
        (arc,) = arcs(part)
        assert arc.centre == (0, 0)
        assert math.dist(arc.start, (0, 0)) == pytest.approx(10, abs=1e-12)
        assert abs(arc.start[1]) == pytest.approx(1, abs=1e-12)
    chord_share = 2 * (math.sqrt(99) + 100 * math.asin(0.1))
    assert total(parts) == pytest.approx(100 * math.pi - chord_share, abs=1e-9)


def test_circle_touching_all_four_sides_leaves_four_corners() -> None:
    parts = region_difference(rectangle(0, 0, 10, 10), disc(5, 5, 5))
    assert len(parts) == 4
    assert total(parts) == pytest.approx(100 - 25 * math.pi, abs=1e-9)
    assert all(a.centre == (5, 5) for a in arcs(*parts))


def test_circles_that_touch_from_outside_stay_two() -> None:
    assert region_union([disc(0, 0, 5), disc(10, 0, 5)]) == (disc(0, 0, 5), disc(10, 0, 5))
    assert region_intersection(disc(0, 0, 5), disc(10, 0, 5)) == ()


def test_circle_touching_from_inside_leaves_a_crescent_or_the_big_one() -> None:
    big, small = disc(0, 0, 100), disc(1, 0, 99)
    assert total(region_union([big, small])) == pytest.approx(math.pi * 1e4, abs=1e-6)
    (crescent,) = region_difference(big, small)
    assert area(crescent) == pytest.approx(math.pi * (1e4 - 99**2), abs=1e-6)


def test_corners_that_touch_do_not_join() -> None:
    assert len(region_union([rectangle(0, 0, 5, 5), rectangle(5, 5, 5, 5)])) == 2


def test_the_same_region_twice() -> None:
    shape = region_difference(rectangle(0, 0, 40, 20), disc(20, 0, 5), disc(10, 10, 2))[0]
    assert region_union([shape, shape]) == (shape,)
    assert region_intersection(shape, shape) == (shape,)
    assert region_difference(shape, shape) == ()


def test_arcs_on_one_circle_that_overlap_are_one_arc() -> None:
    left = region_intersection(disc(0, 0, 10), rectangle(-20, -20, 25, 40))[0]
    right = region_intersection(disc(0, 0, 10), rectangle(-5, -20, 25, 40))[0]
    assert region_union([left, right]) == (disc(0, 0, 10),)


def test_disjoint_and_nested() -> None:
    assert len(region_union([rectangle(0, 0, 5, 5), rectangle(7, 0, 5, 5)])) == 2
    assert region_union([rectangle(0, 0, 9, 9), rectangle(2, 2, 3, 3)]) == (rectangle(0, 0, 9, 9),)
    (ring,) = region_difference(disc(0, 0, 9), disc(0, 0, 4))
    assert area(ring) == pytest.approx(math.pi * (81 - 16), abs=1e-9)
    island = region_union([ring, disc(0, 0, 2)])
    assert sorted(len(r.holes) for r in island) == [0, 1]


# ---------------------------------------------------------------- dividing and clipping


def line(*points: tuple[float, float]) -> Path:
    return Path(tuple(Line(a, b) for a, b in itertools.pairwise(points)), False)


def test_scores_divide_a_strip() -> None:
    strip = rectangle(0, 0, 90, 20)
    parts = split_region(strip, [line((30, 0), (30, 20)), line((60, 0), (60, 20))])
    assert parts == tuple(rectangle(x, 0, 30, 20) for x in (0, 30, 60))


def test_a_score_that_meets_a_score_divides() -> None:
    parts = split_region(
        rectangle(0, 0, 90, 20), [line((30, 0), (30, 20)), line((30, 10), (90, 10))]
    )
    assert sorted(area(p) for p in parts) == pytest.approx([600, 600, 600])


@pytest.mark.parametrize("end", [19.0, 19.99])
def test_a_score_that_stops_short_divides_nothing(end: float) -> None:
    assert split_region(rectangle(0, 0, 90, 20), [line((30, 0), (30, end))]) == (
        rectangle(0, 0, 90, 20),
    )


def test_a_line_that_only_leads_to_a_closed_cut_divides_nothing_more() -> None:
    parts = split_region(rectangle(0, 0, 10, 10), [circle((5, 5), 2), line((0, 5), (5, 5))])
    assert len(parts) == 2
    assert disc(5, 5, 2) in parts
    assert total(parts) == pytest.approx(100, abs=1e-9)


def test_a_curved_score_divides_with_its_arc() -> None:
    # A pillow's end: an arc of radius 50 over an 80 wide panel, sagitta 20.
    arc = Path((Arc((0, 40), (80, 40), (40, 70), clockwise=True),), False)
    top, bottom = split_region(rectangle(0, 0, 80, 100), [arc])
    assert {a.centre for a in arcs(top, bottom)} == {(40, 70)}
    assert {a.radius_mm for a in arcs(top, bottom)} == {50.0}
    segment = 2500 * math.acos(30 / 50) - 30 * 40
    assert area(top) == pytest.approx(80 * 40 - segment, abs=1e-9)
    assert area(bottom) == pytest.approx(80 * 60 + segment, abs=1e-9)


def test_clip_keeps_order_direction_and_arcs() -> None:
    (ring,) = region_difference(rectangle(0, 0, 40, 20), disc(20, 10, 5))
    parts = clip_path(line((50, 10), (-5, 10)), ring)
    assert parts == (line((40, 10), (25, 10)), line((15, 10), (0, 10)))
    (bow,) = clip_path(circle((40, 10), 5), rectangle(0, 0, 40, 20))
    assert not bow.closed
    (arc,) = bow.segments
    assert isinstance(arc, Arc)
    assert arc.centre == (40, 10)
    assert arc.start == pytest.approx((40, 15), abs=1e-12)
    assert arc.end == pytest.approx((40, 5), abs=1e-12)


def test_clip_leaves_out_what_runs_along_the_edge() -> None:
    assert clip_path(line((-5, 0), (50, 0)), rectangle(0, 0, 40, 20)) == ()
    assert clip_path(line((0, 0), (40, 0), (40, 20)), rectangle(0, 0, 40, 20)) == ()


def test_clip_of_a_closed_path_inside_stays_closed() -> None:
    ring = circle((20, 10), 5)
    assert clip_path(ring, rectangle(0, 0, 40, 20)) == (ring,)
    # One that starts inside and leaves once is one run, not two.
    turned = rotated(Region(circle((38, 10), 5)), 0.0).outer
    assert len(clip_path(turned, rectangle(0, 0, 40, 20))) == 1


# ---------------------------------------------------------------- properties

tidy = st.integers(-40, 40).map(lambda n: n / 4)
size = st.integers(2, 60).map(lambda n: n / 4)
wild = st.floats(-12, 12).map(lambda v: round(v, 6))
turns = st.sampled_from([0.0, 90.0, 45.0, 30.0, 17.3])


@st.composite
def shapes(draw: st.DrawFn) -> Region:
    """A rectangle, disc, lens, notched sheet or ring; on a coarse grid so that they touch."""
    place = draw(st.sampled_from([tidy, wild]))
    x, y = draw(place), draw(place)
    kind = draw(st.sampled_from(["rectangle", "disc", "notched", "ring", "round"]))
    w, h = draw(size), draw(size)
    if kind == "disc":
        return disc(x, y, w / 2)
    if kind == "ring":
        return region_difference(disc(x, y, w / 2 + 1), disc(x, y, w / 4))[0]
    if kind == "notched":
        r = min(w, h) / 3
        return rotated(
            region_difference(rectangle(x, y, w, h), disc(x + w / 2, y, r))[0], draw(turns)
        )
    if kind == "round":
        caps = [disc(x, y + h / 2, h / 2), disc(x + w, y + h / 2, h / 2)]
        return region_union([rectangle(x, y, w, h), *caps])[0]
    return rotated(rectangle(x, y, w, h), draw(turns), (x, y))


@settings(max_examples=150, deadline=None)
@given(shapes(), shapes())
def test_areas_add_up_and_agree_with_chords(a: Region, b: Region) -> None:
    union, both = region_union([a, b]), region_intersection(a, b)
    first, second = region_difference(a, b), region_difference(b, a)
    # Common stretches within a hair may be lost or counted: perimeter times a hair.
    slack = 1e-3
    assert total(union) + total(both) == pytest.approx(area(a) + area(b), abs=slack)
    assert total(first) + total(both) == pytest.approx(area(a), abs=slack)
    assert total(first) + total(second) + total(both) == pytest.approx(total(union), abs=slack)
    pa, pb = to_shapely(a, 1e-5), to_shapely(b, 1e-5)
    # Independent: GEOS on fine chords (each chord is at most 1e-5 inside its arc).
    assert total(union) == pytest.approx(pa.union(pb).area, abs=5e-3)
    assert total(both) == pytest.approx(pa.intersection(pb).area, abs=5e-3)


@settings(max_examples=150, deadline=None)
@given(shapes(), shapes())
def test_every_arc_of_a_result_is_an_arc_of_a_parent(a: Region, b: Region) -> None:
    parents = arcs(a, b)
    for arc in arcs(*region_union([a, b]), *region_difference(a, b)):
        near = [p for p in parents if math.dist(p.centre, arc.centre) < 2e-6]
        assert any(abs(p.radius_mm - arc.radius_mm) < 2e-6 for p in near)


@settings(max_examples=150, deadline=None)
@given(shapes(), st.lists(st.tuples(tidy, tidy, tidy, tidy), min_size=1, max_size=4))
def test_splitting_loses_no_paper(
    shape: Region, lines: list[tuple[float, float, float, float]]
) -> None:
    cuts = [line((x1, y1), (x2, y2)) for x1, y1, x2, y2 in lines if (x1, y1) != (x2, y2)]
    parts = split_region(shape, cuts)
    assert total(parts) == pytest.approx(area(shape), abs=1e-3)
    for i, part in enumerate(parts):
        for other in parts[i + 1 :]:
            assert total(region_intersection(part, other)) < 1e-3


@settings(max_examples=100, deadline=None)
@given(shapes(), shapes(), wild, wild)
def test_moving_both_moves_the_result(a: Region, b: Region, dx: float, dy: float) -> None:
    here = region_union([a, b])
    there = region_union([translated(a, dx, dy), translated(b, dx, dy)])
    assert total(here) == pytest.approx(total(there), abs=1e-3)


@settings(max_examples=60, deadline=None)
@given(st.lists(shapes(), min_size=3, max_size=6))
def test_a_union_of_many_agrees_with_chords(many: list[Region]) -> None:
    from shapely import unary_union

    exact = region_union(many)
    assert total(exact) == pytest.approx(
        unary_union([to_shapely(m, 1e-5) for m in many]).area, abs=1e-2
    )
