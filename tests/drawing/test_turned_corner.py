"""A sheet that goes printed face down has a corner turned up: its face is seen there."""

from __future__ import annotations

import pytest
import shapely

from publisher.drawing.types import Drawing, Fill
from tests.drawing import test_view_content as content
from tests.drawing.view_scenes import area, fills, ink, labels, strokes


def corner(drawing: Drawing) -> list[Fill]:
    return [i for i in drawing.items if isinstance(i, Fill) and i.id.endswith("-corner")]


@pytest.mark.parametrize("name", ["leaf-card", "table-sign"])
def test_what_goes_printed_face_down_shows_its_face_at_a_corner(name: str) -> None:
    drawing = content.picture_of(name, "step-02b")
    halo, face, pattern = corner(drawing)
    assert (face.role, pattern.role) == ("front", "pattern")
    assert "pattern-through" in drawing.signs
    sheet = shapely.union_all([area(f) for f in fills(drawing, "back-moving")])
    assert area(face).within(sheet.buffer(1.0))
    assert shapely.intersection(area(halo), area(face)).area < 0.1
    # off arrows, words and what a ring shows larger
    arrows = shapely.union_all([area(f) for f in fills(drawing, "arrow-move")])
    assert shapely.distance(area(face), arrows) > 0.4
    for label in labels(drawing):
        assert shapely.distance(area(face), shapely.Point(label.at)) > 1.0
    assert shapely.distance(area(face), ink(*strokes(drawing, "leader"))) > 0.3


def test_no_other_sheet_of_the_content_has_a_corner_turned_up() -> None:
    found = [
        (name, drawing.name)
        for name in content.NAMES
        for drawing in content.told(name)[2]
        if corner(drawing)
    ]
    assert found == [("leaf-card", "step-02b"), ("table-sign", "step-02b")]
    for name, picture in found:
        assert "pattern-through" in content.picture_of(name, picture).signs
