"""Panels grown from edges: names, senses of walking, folds with the parent on the right."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from publisher.diagnostics import Span
from publisher.geometry.measure import area, signed_area
from publisher.geometry.path import polygon
from publisher.model.shaping.mitres import corner_taper
from publisher.model.shaping.panels import (
    OPPOSITE,
    SIDES,
    chain,
    fold_on,
    grown,
    inside_ring,
    panel_of,
    rectangle,
    stretch,
)
from publisher.model.shaping.paper import overlaps, union_of

HERE = Span("pattern.md", 0, 1, 1, 1)
lengths = st.floats(5.0, 300.0)


@pytest.mark.parametrize("side", SIDES)
@given(width=lengths, height=lengths, depth=lengths, share=st.floats(0.0, 0.5))
def test_grown_panel_lies_outside_on_its_edge(
    side: str, width: float, height: float, depth: float, share: float
) -> None:
    base = rectangle("base", 3.0, -7.0, width, height, HERE)
    edge = base.edge(side)
    length = math.dist(edge.start, edge.end)
    taper = share * length * 0.99
    flap = grown("flap", "panel", edge, depth, HERE, taper_start=taper, taper_end=taper)
    assert signed_area(polygon(flap.ring)) == pytest.approx(depth * (length - taper))
    back = flap.edge(OPPOSITE[side])
    assert (back.start, back.end) == (edge.end, edge.start)
    assert not overlaps([base, flap])
    assert sum(area(r) for r in union_of([base, flap])) == pytest.approx(
        width * height + depth * (length - taper)
    )


@pytest.mark.parametrize("side", SIDES)
def test_fold_has_its_parent_on_the_right(side: str) -> None:
    base = rectangle("base", 0.0, 0.0, 60.0, 40.0, HERE)
    fold = fold_on(base.edge(side), "base", "flap", "mountain", 90.0, HERE)
    (x1, y1), (x2, y2) = fold.start, fold.end
    # The right hand of a walker with y down is (-dy, dx).
    right = ((x1 + x2) / 2 - (y2 - y1) * 0.01, (y1 + y2) / 2 + (x2 - x1) * 0.01)
    assert inside_ring(base.ring, right)


def test_full_taper_is_a_triangle() -> None:
    base = rectangle("base", 0.0, 0.0, 60.0, 60.0, HERE)
    flap = grown("flap", "panel", base.edge("bottom"), 40.0, HERE, taper_start=30, taper_end=30)
    assert len(flap.ring) == 3
    assert {e.name for e in flap.edges} == {"top", "left", "right"}
    assert flap.edge("right").end == pytest.approx((30.0, 100.0))


def test_panels_grow_from_slanted_edges_too() -> None:
    base = rectangle("base", 0.0, 0.0, 60.0, 60.0, HERE)
    flap = grown("flap", "panel", base.edge("bottom"), 40.0, HERE, taper_start=30, taper_end=30)
    tip = grown("tip", "tab", flap.edge("right"), 10.0, HERE)
    assert signed_area(polygon(tip.ring)) == pytest.approx(10.0 * 50.0)
    assert not overlaps([base, flap, tip])


@given(st.lists(lengths, min_size=1, max_size=8), lengths, st.sampled_from(["across", "down"]))
def test_chain_adds_up(parts: list[float], cross: float, direction: str) -> None:
    names = [f"panel {i}" for i in range(len(parts))]
    panels, folds = chain(
        names,
        parts,
        cross,
        direction,  # type: ignore[arg-type]
        ["valley"] * (len(parts) - 1),
        180.0,
        [HERE] * len(parts),
    )
    (region,) = union_of(panels)
    assert area(region) == pytest.approx(sum(parts) * cross)
    assert [f.name for f in folds] == names[1:]
    assert all(
        (f.parent, f.child) == (a, b) for f, a, b in zip(folds, names, names[1:], strict=False)
    )


def test_stretch_keeps_the_middle() -> None:
    base = rectangle("base", 0.0, 0.0, 60.0, 40.0, HERE)
    part = stretch(base.edge("bottom"), 20.0)
    assert part.start == pytest.approx((40.0, 40.0))
    assert part.end == pytest.approx((20.0, 40.0))


@given(depth=st.floats(1.0, 40.0))
def test_tabs_at_an_inner_corner_meet_on_the_bisector(depth: float) -> None:
    wall = rectangle("wall", 50.0, 50.0, 60.0, 40.0, HERE)  # below and right of the corner
    side = rectangle("side", 0.0, 0.0, 50.0, 50.0, HERE)  # above and left of it
    a, b = wall.edge("left"), side.edge("bottom")
    first = corner_taper(a, b, depth, at_start=False)
    second = corner_taper(b, a, depth, at_start=True)
    # A free right angle: each tab is cut at 45 degrees, so it draws in as far as it is deep.
    assert first == pytest.approx(depth)
    assert second == pytest.approx(depth)
    one = grown("a", "tab", a, depth, HERE, taper_end=depth)
    other = grown("b", "tab", b, depth, HERE, taper_start=depth)
    assert not overlaps([one, other])


def test_tabs_at_an_outer_corner_need_no_mitre() -> None:
    base = rectangle("base", 0.0, 0.0, 60.0, 40.0, HERE)
    assert corner_taper(base.edge("top"), base.edge("right"), 12.0, at_start=False) is None
    assert corner_taper(base.edge("top"), base.edge("left"), 12.0, at_start=True) is None


def test_ring_starts_at_its_top_edge() -> None:
    ring = [(0.0, 10.0), (0.0, 0.0), (20.0, 0.0), (20.0, 10.0)]
    panel = panel_of("a", "panel", ring, ("left", "top", "right", "bottom"), HERE)
    assert panel.ring[0] == (0.0, 0.0)
    assert [e.name for e in panel.edges] == list(SIDES)
