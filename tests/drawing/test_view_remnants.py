"""No scraps: an edge of bent paper is one line, and what is left of a ghost is no crumb."""

from __future__ import annotations

import pytest
import shapely

from publisher.drawing.space_view.lines import Drawn, drawn_once
from publisher.drawing.types import LineRole
from tests.drawing import test_view_content as content
from tests.drawing.view_scenes import ink, strokes


@pytest.mark.parametrize("step", ["step-04", "step-05a", "step-05b"])
def test_the_edge_of_a_bent_flap_is_one_line(step: str) -> None:
    """A flap pressed in lies along the crease beside it: its edge is no row of dashes."""
    drawing = content.picture_of("pillow-box", step)
    outlines = ink(*strokes(drawing, "outline", "outline-moving"))
    assert len(shapely.get_parts(outlines.buffer(0.17))) == 1


def test_a_ghost_that_lies_on_edges_is_drawn_over_them() -> None:
    """The front comes to lie on the back, edge on edge: it is seen to fit."""
    drawing = content.picture_of("pillow-box", "step-03b")
    ghost = ink(*strokes(drawing, "ghost"))
    beneath = ink(*strokes(drawing, "outline", "outline-moving"))
    assert ghost.intersection(beneath.buffer(0.2)).length > 40.0
    assert "ghost" in drawing.signs


def line(role: LineRole, length: float, y: float = 0.0) -> Drawn:
    return Drawn(role, "", shapely.LineString([(0.0, y), (length, y)]))


def once(lines: list[Drawn]) -> list[Drawn]:
    return drawn_once(lines, shapely.box(-50.0, -50.0, 50.0, 50.0))


def test_a_ghost_takes_no_ink_from_edges_and_none_of_folds() -> None:
    found = {d.role: d.geometry.length for d in once([line("ghost", 9), line("outline", 5)])}
    assert found == {"ghost": 9.0, "outline": 5.0}
    for fold in ("valley", "mountain", "cut"):
        found = {d.role: d.geometry.length for d in once([line("ghost", 9), line(fold, 5)])}
        assert found == {"ghost": 4.0, fold: 5.0}
    twice = once([line("ghost", 9), line("ghost", 9, 0.1)])
    assert sum(d.geometry.length for d in twice) == 9.0


def test_crumbs_of_ghosts_are_left_out() -> None:
    assert [d.role for d in once([line("ghost", 1.9), line("inner", 1.9, 5.0)])] == ["inner"]
    assert [d.role for d in once([line("ghost", 2.1)])] == ["ghost"]
