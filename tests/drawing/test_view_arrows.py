"""Arrows: their paths come from the motion, their shapes tell valley, mountain and move apart."""

from __future__ import annotations

import math

import numpy as np
import pytest
import shapely
import shapely.affinity
from msgspec.structs import replace

from publisher.assembly import FoldMotion, MoveMotion
from publisher.drawing.space_view import draw_story
from publisher.drawing.space_view.arrows import ArrowKind, arrow, repeated
from publisher.drawing.space_view.camera import Camera, View
from publisher.drawing.space_view.faces import set_scene
from publisher.drawing.space_view.hands import all_arrows
from publisher.drawing.space_view.motions import MOST_ARROWS
from publisher.drawing.space_view.relaxed import relaxed
from publisher.drawing.space_view.shapes import piece_shape
from publisher.drawing.space_view.sides import seen_backs
from publisher.drawing.space_view.stage import set_stage
from publisher.drawing.space_view.turning import fold_path, travelled
from publisher.drawing.space_view.viewpoint import VIEWS
from publisher.geometry.path import Arc, Region, circle
from publisher.geometry.path import Path as GeoPath
from publisher.geometry.space import lift
from publisher.model.types import Facet, Piece
from tests.compiled import compile_text
from tests.drawing.view_scenes import all_drawings, area, box, fills, letter, named
from tests.handmade import drawer

ARC = [(8 * math.cos(t), -8 * math.sin(t)) for t in np.linspace(0, math.pi, 30)]


@pytest.mark.parametrize("kind", ["valley", "mountain", "unfold", "move"])
def test_an_arrow_runs_from_its_tail_to_its_tip(kind: str) -> None:
    made = arrow(ARC, kind)  # type: ignore[arg-type]
    whole = shapely.union_all([shapely.Polygon(p.exterior) for p in shapely.get_parts(made.ink)])
    assert shapely.distance(whole, shapely.Point(ARC[0])) < 0.05
    assert shapely.distance(made.ink, shapely.Point(ARC[-1])) < 0.05
    beyond = shapely.difference(made.ink, shapely.LineString(ARC).buffer(2.0))
    assert beyond.is_empty
    assert made.halo.contains(made.ink)


def test_a_fold_arrow_swells_towards_its_head() -> None:
    made = arrow([(0.0, 0.0), (20.0, 0.0)], "valley")

    def width(x: float) -> float:
        cut = shapely.intersection(made.ink, shapely.LineString([(x, -9), (x, 9)]))
        return float(cut.length)

    assert width(3.0) < width(8.0) < width(14.0) < width(18.0)


def test_valley_and_mountain_are_told_apart_by_head_and_line() -> None:
    valley, mountain = arrow(ARC, "valley"), arrow(ARC, "mountain")
    assert len(shapely.get_parts(valley.ink)) == 1
    parts = shapely.get_parts(mountain.ink)
    assert len(parts) == 3  # dot, dot, and the rest
    assert sum(len(p.interiors) for p in parts) == 1  # the hollow head
    assert all(not p.interiors for p in shapely.get_parts(valley.ink))


def test_the_arrow_of_what_opens_is_an_outline() -> None:
    """One ring all round, body and head, of a line that is printed."""
    made = arrow(ARC, "unfold")
    (ring,) = shapely.get_parts(made.ink)
    assert len(ring.interiors) == 1
    whole = shapely.Polygon(ring.exterior)
    assert made.ink.area < 0.7 * whole.area
    assert shapely.covers(made.halo, whole)
    assert not shapely.buffer(made.ink, -0.15).is_empty


def test_a_path_too_short_for_a_head_is_grown() -> None:
    made = arrow([(0.0, 0.0), (1.0, 0.0)], "valley")
    x0, _, x1, _ = made.ink.bounds
    assert x1 - x0 >= 3.0


@pytest.mark.parametrize("kind", ["valley", "mountain", "unfold", "move"])
@pytest.mark.parametrize("length", [6.0, 9.0, 15.0, 40.0])
def test_arrows_are_read_at_arms_length(kind: str, length: float) -> None:
    """The head is 3 mm long and wide at least, the body 1 mm wide where it meets the head."""
    made = arrow([(0.0, 0.0), (length, 0.0)], kind)  # type: ignore[arg-type]
    across = made.ink.bounds
    assert across[3] - across[1] >= 3.0
    whole = shapely.union_all([shapely.Polygon(p.exterior) for p in shapely.get_parts(made.ink)])

    def width(x: float) -> float:
        return float(whole.intersection(shapely.LineString([(x, -9), (x, 9)])).length)

    barb = max(shapely.get_coordinates(made.ink).tolist(), key=lambda p: abs(p[1]))
    assert length - barb[0] >= 2.99
    assert width(length - 3.75) >= 0.8
    assert width(max(length * 0.5, length - 3.2)) >= 0.8


@pytest.mark.parametrize("case", [box, letter])
def test_no_arrow_of_a_story_is_a_squiggle(case) -> None:
    """Each arrow is large enough to see which way it goes, and follows its motion."""
    _, _, drawings = case()
    found = [f for d in drawings for f in fills(d, "arrow-fold", "arrow-move")]
    assert found
    for fill in found:
        x0, y0, x1, y1 = area(fill).bounds
        assert math.hypot(x1 - x0, y1 - y0) >= 6.0, fill.id


@pytest.mark.parametrize("kind", ["valley", "mountain", "move"])
@pytest.mark.parametrize("flat", [0.02, 0.1, 0.3, 1.0])
@pytest.mark.parametrize("sweep", [60.0, 100.0, 180.0, 270.0])
def test_an_arrow_along_any_arc_is_a_clean_area(kind: ArrowKind, flat: float, sweep: float) -> None:
    """Arcs as folds make them, seen more and more from the edge."""
    for start in range(0, 360, 15):
        turn = np.radians(np.linspace(start, start + sweep, 16))
        for reach in (2.0, 6.0, 25.0):
            arc = [(reach * math.cos(a), reach * flat * math.sin(a)) for a in turn]
            made = arrow(arc, kind)
            assert made.ink.is_valid, (start, reach)
            assert made.halo.is_valid, (start, reach)


def test_bars_across_an_arrow_can_be_counted() -> None:
    plain = arrow([(0.0, 0.0), (20.0, 0.0)], "valley")
    for times in (1, 2, 3):
        made = repeated(plain, [(0.0, 0.0), (20.0, 0.0)], times)
        line = shapely.LineString([(0.0, 1.0), (14.0, 1.0)])  # beside the body, before the head
        assert len(shapely.get_parts(made.ink.intersection(line))) == times
        assert made.halo.buffer(1e-6).contains(made.ink)


def hook(back: float, wide: float) -> np.ndarray:
    """A way of 10 mm out and so far back, ``wide`` mm across, as a fold is seen nearly edge on."""
    turn = np.linspace(0.0, math.pi, 16)
    out = np.column_stack((wide / 2.0 * (1.0 - np.cos(turn)), -10.0 * np.sin(turn)))
    out[8:, 1] = -10.0 + (out[8:, 1] + 10.0) * back / 10.0
    return np.column_stack((out, np.linspace(1.0, 2.0, 16)))


def bend_under_head(path: np.ndarray) -> float:
    """By how many degrees a path turns over the length of a head."""
    steps = np.diff(path[:, :2], axis=0)
    rest = np.hypot(*steps.T)[::-1].cumsum()[::-1]
    ways = np.unwrap(np.arctan2(steps[:, 1], steps[:, 0]))[rest < 3.8]
    return math.degrees(float(np.ptp(ways))) if len(ways) else 0.0


@pytest.mark.parametrize(("back", "wide"), [(2.0, 3.0), (2.0, 5.0), (1.0, 4.0), (3.0, 1.5)])
def test_a_hook_is_relaxed_until_it_carries_a_head(back: float, wide: float) -> None:
    sharp = hook(back, wide)
    made = relaxed(sharp)
    assert bend_under_head(sharp) > 60.0
    assert bend_under_head(made) <= 62.0
    assert made[0] == pytest.approx(sharp[0])
    ink = arrow([(x, y) for x, y in made[:, :2].tolist()], "valley").ink
    assert len(shapely.get_parts(ink)) == 1
    assert len(made[0]) == 3  # what else goes along


def test_a_way_that_an_arrow_can_follow_stays_as_it_is() -> None:
    path = np.array([(x, y, 0.0) for x, y in ARC])
    assert relaxed(path) is path


def test_what_opens_is_told_from_what_is_folded() -> None:
    """A fold that goes back towards flat has the arrow of opening; one that goes on has not."""
    outcome = compile_text(
        "```piece leaf, in card\npanel near half, 120 x 40 mm\n"
        "panel far half, on top of near half, 40 mm deep, valley\n"
        "score between far half and near half\n```\n\n"
        "```step\nfold far half of leaf by 90 degrees\nfold far half of leaf by 180 degrees\n"
        "open leaf by 90 degrees\nopen leaf\n```\n"
    )
    assert outcome.story is not None, outcome.diagnostics
    told = outcome.story.handled or outcome.pattern
    assert told is not None
    drawn = draw_story(told, outcome.story)
    signs = [{s for s in d.signs if s.startswith("fold-arrow")} for d in drawn]
    assert signs == [{"fold-arrow-valley"}] * 2 + [{"fold-arrow-unfold"}] * 2
    assert all("valley" in d.signs for d in drawn[:2])
    assert not {s for d in drawn[2:] for s in d.signs} & {"valley", "mountain"}


# ---------------------------------------------------------------- paths


def test_a_fold_path_is_the_arc_about_the_hinge() -> None:
    """Every point keeps its distance from the fold line, and the last is where assembly has
    the point after the action."""
    pattern, story, _ = letter()
    frame = next(f for f in story.frames if f.action.verb == "fold")
    motion = next(m for m in frame.motions if isinstance(m, FoldMotion))
    stage, shape = set_stage(pattern, frame), piece_shape(pattern.pieces[0])
    for hinge, _ in shape.hinges:
        if hinge.fold not in {n for n, _, _ in motion.folds}:
            continue
        found = travelled(shape, hinge, frozenset(motion.moving), 0.5)
        assert found is not None
        facet, flat = found
        path = fold_path(stage, motion, shape, hinge, flat)
        after = frame.after.body(motion.body).facet_pose(facet).apply(lift(flat))
        assert path[-1] == pytest.approx(after, abs=1e-9)
        pose = stage.actor(motion.body, facet).pose
        a, b = (np.array(pose.apply(lift(p))) for p in (hinge.start, hinge.end))
        along = (b - a) / np.linalg.norm(b - a)
        off = [np.linalg.norm((p - a) - along * np.dot(p - a, along)) for p in path]
        assert off == pytest.approx([off[0]] * len(off), abs=1e-9)
        assert max(p[2] for p in path) == pytest.approx(off[0], rel=0.01)  # over, not under


def test_half_way_up_a_wall_stands_at_half_its_angle() -> None:
    pattern, story, _ = box()
    frame = story.frames[2]
    motion = next(m for m in frame.motions if isinstance(m, FoldMotion))
    stage, shape = set_stage(pattern, frame), piece_shape(pattern.piece("drawer"))
    hinge = next(h for h, _ in shape.hinges if h.fold == "front wall")
    found = travelled(shape, hinge, frozenset(motion.moving), 0.5)
    assert found is not None
    path = fold_path(stage, motion, shape, hinge, found[1], samples=2)
    reach = float(np.linalg.norm(path[0] - path[2])) / math.sqrt(2.0)
    assert path[1][2] == pytest.approx(reach * math.sin(math.pi / 4), rel=1e-6)
    assert path[2][2] == pytest.approx(reach, rel=1e-6)


@pytest.mark.parametrize("case", [box, letter])
def test_never_a_crowd_of_arrows_and_none_across_another(case) -> None:
    pattern, story, _ = case()
    shapes = {p.name: piece_shape(p) for p in pattern.pieces}
    for frame in story.frames:
        stage = set_stage(pattern, frame)
        camera = Camera(VIEWS[0], 0.28)
        scene = set_scene(stage, shapes, camera)
        backs = seen_backs(frame, stage, scene.items)
        placed = all_arrows(frame, stage, shapes, camera, scene.items, scene.seen, backs)
        assert len(placed) <= MOST_ARROWS
        for k, one in enumerate(placed):
            for other in placed[k + 1 :]:
                assert not one.shape.ink.intersects(other.shape.ink)


def test_a_move_arrow_points_along_the_path_and_towards_the_goal() -> None:
    pattern, story, _ = box()
    frame = story.frames[-1]
    motion = next(m for m in frame.motions if isinstance(m, MoveMotion))
    stage = set_stage(pattern, frame)
    shapes = {p.name: piece_shape(p) for p in pattern.pieces}
    camera = Camera(View(-24.0, 42.0), 0.25)
    scene = set_scene(stage, shapes, camera)
    (placed,) = all_arrows(frame, stage, shapes, camera, scene.items, scene.seen, frozenset())
    run = np.array(placed.path[-1]) - np.array(placed.path[0])
    way = camera.project(-np.array(motion.path[-2])[None, :])[0, :2]
    assert np.dot(run, way) / np.linalg.norm(run) / np.linalg.norm(way) == pytest.approx(1.0)
    assert (
        scene.area("sleeve-1")
        .union(scene.area("sleeve-mat-1"))
        .contains(shapely.Point(placed.path[-1]))
    )


def test_every_arrow_is_drawn_over_its_halo() -> None:
    for drawing in all_drawings():
        order = [i.id for i in drawing.items]
        for fill in fills(drawing, "arrow-fold", "arrow-move"):
            halo = fill.id.replace("arrow-", "halo-", 1)
            assert order.index(halo) < order.index(fill.id)


def test_arrows_of_a_closing_show_where_glue_was_opened() -> None:
    _, _, drawings = box()
    drawing = named(drawings, "step-02")
    assert len(fills(drawing, "arrow-fold")) == 2  # the left and the right wall
    assert all(area(f).area > 1.0 for f in fills(drawing, "arrow-fold"))


def test_a_window_does_not_shorten_the_path() -> None:
    """The travelling point lies near the far edge of the panel, also beyond a window."""
    plain, pierced = drawer(), pierced_drawer()
    for piece in (plain, pierced):
        shape = piece_shape(piece)
        hinge = next(h for h, _ in shape.hinges if h.fold == "front wall")
        found = travelled(shape, hinge, frozenset({"front wall"}), 0.5)
        assert found is not None
        assert found[1][1] == pytest.approx(22.0 + 84.0 + 0.86 * 22.0, abs=0.02)


def pierced_drawer() -> Piece:
    """The drawer with a window of 10 across in the middle of its front wall."""
    piece = drawer()
    hole = circle((84.0, 117.0), 5.0)
    backwards = GeoPath(
        tuple(Arc(a.end, a.start, a.centre, not a.clockwise) for a in reversed(hole.segments)), True
    )
    facets = tuple(
        Facet(f.name, f.panel, Region(f.region.outer, (backwards,)))
        if f.name == "front wall"
        else f
        for f in piece.facets
    )
    return replace(piece, facets=facets)
