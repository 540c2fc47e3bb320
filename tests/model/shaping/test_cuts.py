"""Notches, strips of glue, facets and hinges, on figures worked out by hand."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from publisher.diagnostics import Span
from publisher.geometry.measure import area, signed_area
from publisher.geometry.path import Arc, Line, Path, Region, circle, polygon
from publisher.model.shaping.bands import band_plan
from publisher.model.shaping.facets import facets_of, hinges_of
from publisher.model.shaping.glue import reach, strip_along
from publisher.model.shaping.notches import mouth_is_free, notch_at
from publisher.model.shaping.panels import chain, grown, rectangle
from publisher.model.shaping.paper import holds, panel_region, union_of, without
from publisher.model.shaping.scores import scores_of
from publisher.model.types import Fold, Opening

HERE = Span("pattern.md", 0, 1, 1, 1)
SHEET = Region(polygon([(0, 0), (100, 0), (100, 60), (0, 60)]))


@given(st.floats(2.0, 80.0))
def test_half_round_takes_half_a_disc(width: float) -> None:
    notch = notch_at((50.0, 0.0), (1.0, 0.0), "half round", width, width / 2)
    (left,) = without(SHEET, [notch.ring])
    assert area(left) == pytest.approx(6000.0 - math.pi * width**2 / 8)
    arcs = [s for s in left.outer.segments if isinstance(s, Arc)]
    assert len(arcs) == 1
    assert arcs[0].radius_mm == pytest.approx(width / 2)


@given(width=st.floats(4.0, 80.0), share=st.floats(0.05, 0.95))
def test_shallow_half_round_is_a_segment(width: float, share: float) -> None:
    depth = share * width / 2
    notch = notch_at((50.0, 0.0), (1.0, 0.0), "half round", width, depth)
    # Circular segment: r from chord and rise, area r^2 (t - sin t) / 2.
    radius = (width**2 / 4 + depth**2) / (2 * depth)
    angle = 2 * math.asin(width / 2 / radius)
    assert signed_area(notch.ring) == pytest.approx(radius**2 * (angle - math.sin(angle)) / 2)


def test_deep_half_round_goes_straight_in_first() -> None:
    notch = notch_at((50.0, 0.0), (1.0, 0.0), "half round", 20.0, 25.0)
    assert signed_area(notch.ring) == pytest.approx(20 * 15 + math.pi * 100 / 2)


@pytest.mark.parametrize(("shape", "taken"), [("square", 20 * 8), ("vee", 20 * 8 / 2)])
def test_straight_notches(shape: str, taken: float) -> None:
    notch = notch_at((0.0, 30.0), (0.0, -1.0), shape, 20.0, 8.0)  # type: ignore[arg-type]
    assert signed_area(notch.ring) == pytest.approx(taken)
    assert holds(SHEET, notch.ring)
    (left,) = without(SHEET, [notch.ring])
    assert area(left) == pytest.approx(6000 - taken)


def test_mouth_must_lie_on_the_paper_edge() -> None:
    assert mouth_is_free(SHEET, notch_at((50.0, 0.0), (1.0, 0.0), "vee", 20.0, 8.0))
    assert not mouth_is_free(SHEET, notch_at((50.0, 10.0), (1.0, 0.0), "vee", 20.0, 8.0))
    assert not mouth_is_free(SHEET, notch_at((5.0, 0.0), (1.0, 0.0), "vee", 20.0, 8.0))


def test_glue_strip_follows_a_tapered_panel() -> None:
    base = rectangle("base", 0.0, 0.0, 60.0, 40.0, HERE)
    flap = grown("flap", "panel", base.edge("top"), 20.0, HERE, taper_start=10, taper_end=10)
    (strip,) = strip_along(panel_region(flap), flap.edge("bottom"), 5.0)
    # A trapezium between the fold (60 long) and 5 mm out (55 long).
    assert area(strip) == pytest.approx((60 + 55) / 2 * 5)
    assert reach(flap, flap.edge("bottom")) == pytest.approx(20.0)


def test_glue_strip_is_broken_by_a_notch() -> None:
    notch = notch_at((50.0, 0.0), (1.0, 0.0), "half round", 20.0, 10.0)
    (paper,) = without(SHEET, [notch.ring])
    edge = rectangle("p", 0.0, 0.0, 100.0, 60.0, HERE).edge("top")
    assert len(strip_along(paper, edge, 5.0)) == 2
    assert len(strip_along(paper, edge, 15.0)) == 1


def test_facets_of_a_chain_with_a_window_across_a_fold() -> None:
    panels, folds = chain(
        ["a", "b", "c"], [30, 40, 20], 50, "across", ["mountain"] * 2, 90, [HERE] * 3
    )
    (paper,) = union_of(panels)
    hole = circle((30.0, 25.0), 5.0)
    (paper,) = without(paper, [hole])
    pane = Opening("pane", "window", "circle", hole, None, 10.0, 10.0, HERE)
    scores = scores_of(folds, paper, [pane], [])
    assert [s.name for s in scores] == ["b", "b part 2", "c"]
    assert sum(s.path.length_mm for s in scores) == pytest.approx(50 + 40)
    facets = facets_of(paper, panels, [s.path for s in scores])
    assert [f.name for f in facets] == ["a", "b", "c"]
    assert area(facets[0].region) == pytest.approx(30 * 50 - math.pi * 25 / 2)
    hinges = hinges_of(folds, facets)
    assert [(h.fold, h.parent, h.child) for h in hinges] == [
        ("b", "a", "b"),
        ("b", "a", "b"),
        ("c", "b", "c"),
    ]


def test_scored_blank_has_numbered_facets_with_hinges() -> None:
    blank = rectangle("blank", 0.0, 0.0, 177.8, 127.0, HERE)
    (paper,) = union_of([blank])
    folds = [
        Fold(f"score {i}", (x, 127.0), (x, 0.0), "mountain", 180.0, "blank", "blank", HERE)
        for i, x in ((1, 50.8), (2, 127.0))
    ]
    scores = scores_of(folds, paper, [], [])
    facets = facets_of(paper, [blank], [s.path for s in scores])
    assert [f.name for f in facets] == ["blank part 1", "blank part 2", "blank part 3"]
    hinges = hinges_of(folds, facets)
    # Walked upwards, the paper on the right is the part further right.
    assert [(h.parent, h.child) for h in hinges] == [
        ("blank part 2", "blank part 1"),
        ("blank part 3", "blank part 2"),
    ]


def test_a_score_that_stops_short_divides_nothing() -> None:
    blank = rectangle("blank", 0.0, 0.0, 100.0, 60.0, HERE)
    cut = Path((Line((50.0, 10.0), (50.0, 50.0)),), closed=False)
    assert len(facets_of(SHEET, [blank], [cut])) == 1


@given(
    st.tuples(st.floats(10, 300), st.floats(10, 300), st.floats(1, 80)),
    st.sampled_from(["across", "down"]),
    st.floats(0, 5),
    st.floats(0, 30),
)
def test_band_girth_is_body_girth_and_ease(
    body: tuple[float, float, float], direction: str, ease: float, overlap: float
) -> None:
    plan = band_plan("body", body, direction, ease, overlap)  # type: ignore[arg-type]
    face = body[0] if direction == "across" else body[1]
    # The girth of the body, and the ease once for each of the four sides: what is free
    # between two opposite sides is the ease, in both directions.
    assert plan.loop_mm == pytest.approx(2 * (face + body[2]) + 4 * ease)
    assert sum(plan.lengths) == pytest.approx(plan.loop_mm)
    assert sum(t.mm for t in plan.terms) == pytest.approx(plan.loop_mm + overlap)


def test_band_of_the_sliding_box() -> None:
    plan = band_plan("drawer when closed", (124.8, 84.8, 22.4), "down", 1.0, 12.0)
    assert plan.lengths == pytest.approx((85.8, 23.4, 85.8, 23.4))
    assert sum(t.mm for t in plan.terms) == pytest.approx(230.4)
