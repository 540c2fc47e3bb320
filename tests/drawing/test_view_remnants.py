"""No scraps: an edge of bent paper is one line, and a ghost is drawn as a whole or not at all."""

from __future__ import annotations

import pytest
import shapely

from publisher.drawing.space_view.ghosts import without_remnants
from publisher.drawing.space_view.lines import Drawn
from tests.drawing import test_view_content as content
from tests.drawing.view_scenes import ink, strokes


@pytest.mark.parametrize("step", ["step-04", "step-05a", "step-05b"])
def test_the_edge_of_a_bent_flap_is_one_line(step: str) -> None:
    """A flap pressed in lies along the crease beside it: its edge is no row of dashes."""
    drawing = content.picture_of("pillow-box", step)
    outlines = ink(*strokes(drawing, "outline", "outline-moving"))
    assert len(shapely.get_parts(outlines.buffer(0.17))) == 1


def test_a_ghost_that_lies_on_other_lines_leaves_no_scraps() -> None:
    """The front comes to lie on the back, edge on edge, but for the two notches."""
    drawing = content.picture_of("pillow-box", "step-03b")
    assert not strokes(drawing, "ghost")
    assert "ghost" not in drawing.signs
    assert strokes(content.picture_of("leaf-card", "step-03"), "ghost")


def test_how_much_of_a_ghost_must_be_left() -> None:
    def ghost(length: float) -> Drawn:
        return Drawn("ghost", "", shapely.LineString([(0.0, 0.0), (length, 0.0)]))

    edge = Drawn("outline", "card-1", shapely.LineString([(0.0, 5.0), (10.0, 5.0)]))
    assert without_remnants([edge, ghost(19.0)], [edge, ghost(100.0)]) == [edge]
    assert without_remnants([edge, ghost(21.0)], [edge, ghost(100.0)]) == [edge, ghost(21.0)]
    assert without_remnants([edge], [edge]) == [edge]
