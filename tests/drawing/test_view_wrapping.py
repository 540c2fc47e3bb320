"""A wrap is told as a maker does it, and ends as assembly says."""

from __future__ import annotations

from itertools import pairwise

import pytest
import shapely

from publisher.assembly import FoldMotion, MoveMotion
from publisher.drawing.space_view.edges import at_edges
from publisher.drawing.space_view.shapes import piece_shape
from publisher.drawing.space_view.stage import set_stage
from publisher.drawing.space_view.turning import fold_path, travelled, turning_facet
from publisher.drawing.space_view.wrapping import as_made
from publisher.drawing.types import LineRole
from publisher.geometry.space import norm, sub
from publisher.model.types import Hinge
from tests.drawing.test_view_content import told
from tests.drawing.view_scenes import area, box, fills, labels, named, strokes


def wrap():
    pattern, story, _ = box()
    frame = next(f for f in story.frames if f.action.verb == "wrap")
    return pattern, frame, as_made(frame, {p.name: p for p in pattern.pieces})


def folds(told) -> list[FoldMotion]:
    return [m for frame in told for m in frame.motions if isinstance(m, FoldMotion)]


def test_the_band_lies_flat_good_side_down_under_its_end() -> None:
    _, frame, told = wrap()
    band, after = told[0].before.body("sleeve-1"), told[-1].after.body("sleeve-1")
    assert all(pose.normal[2] == pytest.approx(-1.0) for _, pose in band.facets)
    still, done = band.facet_pose("panel 3"), after.facet_pose("panel 3")
    assert norm(sub(still.shift, done.shift)) < 1e-9
    assert told[-1].after is frame.after
    moving = [facet for fold in folds(told) for facet in fold.moving]
    assert "panel 3" not in moving
    assert len(moving) == len(band.facets) - 1


def test_each_move_has_a_picture_and_begins_where_the_last_one_ended() -> None:
    """The drawer is set on, the side with the overlap comes up, then the side that lies on it."""
    _, _, told = wrap()
    assert [type(m).__name__ for f in told for m in f.motions] == [
        "MoveMotion",
        "FoldMotion",
        "FoldMotion",
    ]
    assert [fold.moving for fold in folds(told)] == [("panel 4", "overlap"), ("panel 2", "panel 1")]
    for one, other in pairwise(told[1:]):
        assert one.after is other.before
    assert told[0].after.bodies == told[1].before.bodies
    up = told[1].after.body("sleeve-1")
    for facet, other in (("overlap", told[-1].after), ("panel 1", told[0].before)):
        there = other.body("sleeve-1").facet_pose(facet)
        assert norm(sub(up.facet_pose(facet).shift, there.shift)) < 1e-9
        assert up.facet_pose(facet).normal == pytest.approx(there.normal)


def test_no_number_that_the_program_gave_stands_in_a_picture() -> None:
    _, _, drawings = box()
    for drawing in drawings:
        assert not [x.text for x in labels(drawing) if x.text.startswith("panel ")]


def test_the_mat_stays_on_its_panel() -> None:
    _, frame, told = wrap()

    def between(state) -> tuple[float, ...]:
        panel = state.body("sleeve-1").facet_pose("panel 1")
        return panel.inverse().after(state.body("sleeve-mat-1").pose).shift

    for one in told:
        for state in (one.before, one.after):
            assert between(state) == pytest.approx(between(frame.before), abs=1e-9)


def test_the_drawer_comes_straight_down_onto_its_place() -> None:
    pattern, _, told = wrap()
    move = next(m for m in told[0].motions if isinstance(m, MoveMotion))
    assert move.bodies == ("drawer-1",)
    (x, y, z), end = move.path
    assert (x, y) == (0.0, 0.0)
    assert z > 0.0
    assert end == (0.0, 0.0, 0.0)
    stage = set_stage(pattern, told[0])
    assert stage.away["drawer-1"][2] > 0.0


def test_every_panel_is_shown_to_rise() -> None:
    """Also the outer one of two that travel turns away from what stands still."""
    pattern, _, told = wrap()
    shape = piece_shape(next(p for p in pattern.pieces if p.name == "sleeve"))
    outer = {"panel 2": "panel 1", "panel 3": "panel 2", "panel 4": "panel 4"}
    seen = 0
    for frame in told[1:]:
        stage, (fold,) = set_stage(pattern, frame), folds([frame])
        moving = frozenset(fold.moving)
        for hinge, _ in shape.hinges:
            if hinge.fold not in {name for name, _, _ in fold.folds}:
                continue
            turns = turning_facet(shape, hinge, moving)
            assert turns == outer.get(hinge.fold, "overlap")
            found = travelled(shape, hinge, moving, 0.5)
            assert found is not None
            path = fold_path(stage, fold, shape, hinge, found[1])
            assert path[-1][2] > path[0][2] + 5.0
            seen += 1
    assert seen == len(shape.hinges)


def test_the_picture_shows_the_way_in() -> None:
    _, _, drawings = box()
    drawing = named(drawings, "step-03b")
    assert strokes(drawing, "ghost")
    assert len(fills(drawing, "arrow-move")) == 1
    assert not fills(drawing, "arrow-fold")
    for step in ("step-03c", "step-03d"):
        assert 1 <= len(fills(named(drawings, step), "arrow-fold")) <= 2
        assert not fills(named(drawings, step), "arrow-move")
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
            assert as_made(frame, pieces) == (frame,)


@pytest.mark.parametrize(("high", "seen"), [(0.0, True), (0.3, True), (1.5, False)])
def test_a_fold_under_the_edge_of_what_it_goes_round_is_seen(high: float, seen: bool) -> None:
    """The band's crease lies ``high`` mm behind the edge of what is wrapped, on paper."""
    hinge = Hinge("up", "under", "flap", (0.0, 0.0), (10.0, 0.0))
    line = shapely.LineString([(0.0, 0.0), (10.0, 0.0)])
    flap = shapely.box(0.0, high, 10.0, 20.0)
    marks: list[tuple[dict[tuple[str, str], LineRole], bool]]
    marks = [({("band-1", "up"): "valley"}, seen), ({}, False)]
    for now, marked in marks:
        along: list[list[tuple[float, float]]] = [[], []]
        at_edges([("band-1", hinge, line)], now, along, [shapely.Polygon(), flap])
        assert bool(along[1]) == marked
        assert not along[0]


@pytest.mark.parametrize("step", ["step-04d", "step-04e"])
def test_both_folds_of_an_end_that_goes_up_are_marked(step: str) -> None:
    """The band goes up round the wallet, two folds at each end."""
    drawing = named(told("plan-wallet")[2], step)
    runs = [(s.id.startswith("close-up"), p) for s in strokes(drawing, "valley") for p in s.paths]
    assert len([path for near, path in runs if near]) >= 2
    assert len([path for near, path in runs if not near]) >= 2


def test_a_band_is_not_named_at_a_sliver_of_a_panel() -> None:
    """What goes up is seen on edge: its name points at where the band shows most."""
    drawing = named(told("plan-wallet")[2], "step-04d")
    (dot,) = (area(f) for f in fills(drawing, "sign") if f.id == "dot-band")
    roles = ("front", "back", "front-moving", "back-moving")
    on = [area(f) for f in fills(drawing, *roles) if f.id.startswith("face-band-1")]
    (face,) = (f for f in on if f.contains(dot.centroid))
    assert not shapely.buffer(face, -1.0).is_empty
