"""A wrap is told as a maker does it, and ends as assembly says."""

from __future__ import annotations

import pytest
import shapely

from publisher.assembly import FoldMotion, MoveMotion
from publisher.drawing.space_view.shapes import piece_shape
from publisher.drawing.space_view.stage import set_stage
from publisher.drawing.space_view.turning import fold_path, travelled, turning_facet
from publisher.drawing.space_view.wrapping import as_made
from publisher.geometry.space import norm, sub
from tests.drawing.view_scenes import area, box, fills, labels, named, strokes


def wrap():
    pattern, story, _ = box()
    frame = next(f for f in story.frames if f.action.verb == "wrap")
    return pattern, frame, as_made(frame, {p.name: p for p in pattern.pieces})


def test_the_band_lies_flat_good_side_down_under_its_end() -> None:
    _, frame, told = wrap()
    band, after = told.before.body("sleeve-1"), told.after.body("sleeve-1")
    assert all(pose.normal[2] == pytest.approx(-1.0) for _, pose in band.facets)
    still, done = band.facet_pose("panel 3"), after.facet_pose("panel 3")
    assert norm(sub(still.shift, done.shift)) < 1e-9
    assert told.after is frame.after
    fold = next(m for m in told.motions if isinstance(m, FoldMotion))
    assert "panel 3" not in fold.moving
    assert len(fold.moving) == len(band.facets) - 1


def test_the_mat_stays_on_its_panel() -> None:
    _, frame, told = wrap()

    def between(state) -> tuple[float, ...]:
        panel = state.body("sleeve-1").facet_pose("panel 1")
        return panel.inverse().after(state.body("sleeve-mat-1").pose).shift

    assert between(told.before) == pytest.approx(between(frame.before), abs=1e-9)


def test_the_drawer_comes_straight_down_onto_its_place() -> None:
    pattern, _, told = wrap()
    move = next(m for m in told.motions if isinstance(m, MoveMotion))
    assert move.bodies == ("drawer-1",)
    (x, y, z), end = move.path
    assert (x, y) == (0.0, 0.0)
    assert z > 0.0
    assert end == (0.0, 0.0, 0.0)
    stage = set_stage(pattern, told)
    assert stage.away["drawer-1"][2] > 0.0


def test_every_panel_is_shown_to_rise() -> None:
    """Also the outer one of two that travel turns away from what stands still."""
    pattern, _, told = wrap()
    shape = piece_shape(next(p for p in pattern.pieces if p.name == "sleeve"))
    stage = set_stage(pattern, told)
    fold = next(m for m in told.motions if isinstance(m, FoldMotion))
    moving = frozenset(fold.moving)
    outer = {"panel 2": "panel 1", "panel 3": "panel 2", "panel 4": "panel 4"}
    for hinge, _ in shape.hinges:
        turns = turning_facet(shape, hinge, moving)
        assert turns == outer.get(hinge.fold, "overlap")
        found = travelled(shape, hinge, moving, 0.5)
        assert found is not None
        path = fold_path(stage, fold, shape, hinge, found[1])
        assert path[-1][2] > path[0][2] + 5.0


def test_the_picture_shows_the_way_in() -> None:
    _, _, drawings = box()
    drawing = named(drawings, "step-03b")
    assert strokes(drawing, "ghost")
    assert len(fills(drawing, "arrow-move")) == 1
    assert len(fills(drawing, "arrow-fold")) >= 2
    assert {"sleeve", "drawer"} <= {label.text for label in labels(drawing)}
    (arrow,) = fills(drawing, "arrow-move")
    x0, y0, x1, y1 = area(arrow).bounds
    assert y1 - y0 > 2.0 * (x1 - x0)  # straight down
    drawer = [f for f in fills(drawing, "front-moving", "back-moving") if "drawer" in f.id]
    assert shapely.union_all([area(f) for f in drawer]).area > 100.0


def test_other_frames_are_left_as_they_are() -> None:
    pattern, story, _ = box()
    pieces = {p.name: p for p in pattern.pieces}
    for frame in story.frames:
        if frame.action.verb != "wrap":
            assert as_made(frame, pieces) is frame
