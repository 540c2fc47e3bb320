"""Step drawings of a whole pattern: names, one view, one scale, stable, the same every time."""

from __future__ import annotations

import hashlib
import math
import os
import subprocess
import sys
from itertools import pairwise
from pathlib import Path as FilePath

import pytest
import shapely

from publisher.assembly import FoldMotion, Mark, State, Story, TurnMotion
from publisher.drawing.signs import SIGNS
from publisher.drawing.space_view import draw_cover, draw_frame, draw_story, told_frames
from publisher.drawing.space_view.stage import set_stage
from publisher.drawing.space_view.story import frame_names, settings
from publisher.drawing.space_view.telling import Telling, shapes_of
from publisher.drawing.space_view.viewpoint import VIEWS, choose_views
from publisher.drawing.types import Drawing
from publisher.model.types import Pattern
from tests.drawing.view_scenes import (
    all_drawings,
    area,
    body,
    box,
    centred,
    fills,
    frame_of,
    ink,
    letter,
    named,
    pattern_of,
    state,
    strokes,
)
from tests.handmade import drawer

ROOT = FilePath(__file__).parents[2]


def chosen(case: tuple[Pattern, Story, tuple[Drawing, ...]]):
    pattern, story, _ = case
    stages = [set_stage(pattern, f) for f in story.frames]
    shapes = shapes_of(pattern, stages)
    views = choose_views(story.frames, stages, shapes)
    return settings(Telling(story.frames, tuple(stages), tuple(views), shapes))


def test_names_say_step_and_place_in_it() -> None:
    _, story, drawings = box()
    names = [d.name for d in drawings]
    assert names == [
        "step-01a",
        "step-01b",
        "step-01c",
        "step-01d",
        "step-02",
        "step-03a",
        "step-03b",
        "step-03c",
        "step-03d",
        "step-03e",
        "step-04",
    ]
    many = [story.frames[0]] * 28
    assert frame_names(many)[-3:] == ["step-01z", "step-01aa", "step-01ab"]


@pytest.mark.parametrize("case", [box(), letter()], ids=["box", "letter"])
def test_the_view_is_kept_from_step_to_step(case) -> None:
    views = [s.view for s in chosen(case)]
    common = max(set(views), key=views.count)
    assert views.count(common) >= len(views) - 1
    assert common == VIEWS[0]


def test_one_scale_where_it_can_be_shared() -> None:
    assert len({d.scale for d in letter()[2]}) == 1
    scales = {d.name: d.scale for d in box()[2]}
    drawer_only = {s for n, s in scales.items() if n.startswith(("step-01", "step-02"))}
    with_sleeve = {s for n, s in scales.items() if n.startswith(("step-03", "step-04"))}
    assert len(drawer_only) == len(with_sleeve) == 1
    assert min(drawer_only) > min(
        with_sleeve
    )  # a small piece is not drawn small for a large one's sake


@pytest.mark.parametrize("drawing", all_drawings(), ids=lambda d: d.name)
def test_pictures_are_no_wider_than_the_column(drawing: Drawing) -> None:
    if drawing.name != "cover":
        assert drawing.width_mm == 85.0
        assert drawing.height_mm <= 80.0


def test_a_change_of_depth_keeps_views_and_scale() -> None:
    for depth in (21.0, 23.0, 24.0):
        assert chosen(box(depth)) == chosen(box())


def test_projected_lengths_follow_the_depth() -> None:
    """The upright corner of the drawer is depth * scale * cos(elevation) on paper."""
    for depth in (22.0, 30.0):
        _, _, drawings = box(depth)
        drawing = named(drawings, "step-01d")
        expected = depth * drawing.scale * math.cos(math.radians(VIEWS[0].elevation_deg))
        upright = [
            math.dist(seg.start, seg.end)
            for s in strokes(drawing, "mountain")
            for path in s.paths
            for seg in path.segments
            if abs(seg.start[0] - seg.end[0]) < 1e-3
        ]
        assert min(abs(n - expected) for n in upright) < 0.01


def test_the_envelope_does_not_notice_the_box() -> None:
    """A drawing depends on its pattern alone."""
    pattern, story, drawings = letter()
    assert draw_story(pattern, story) == drawings


def test_a_frame_alone_is_drawn_as_in_the_story_when_told_how() -> None:
    pattern, story, drawings = letter()
    setting = chosen(letter())[3]
    assert draw_frame(pattern, story.frames[3], drawings[3].name, setting) == drawings[3]


def test_every_sign_is_known_and_used() -> None:
    used: set[str] = set()
    for drawing in all_drawings():
        assert set(drawing.signs) <= set(SIGNS)
        assert list(drawing.signs) == [k for k in SIGNS if k in drawing.signs]
        used |= set(drawing.signs)
        roles = {getattr(i, "role", "") for i in drawing.items}
        for sign in ("glue", "glue-through", "hidden", "ghost", "valley", "mountain", "cut"):
            assert (sign in drawing.signs) == (sign in roles), (drawing.name, sign)
        turned = bool({"turn-over", "turn-round"} & set(drawing.signs))
        assert turned == ("arrow-turn" in roles)
    assert {"turn-over", "move-arrow", "fold-arrow-mountain", "moving"} <= used


def test_the_ghost_lies_where_the_flap_will_lie() -> None:
    _, _, drawings = letter()
    before, after = named(drawings, "step-02b"), named(drawings, "step-03")
    ghost = ink(*strokes(before, "ghost"))
    (flap,) = [f for f in fills(after, "front") if f.id == "face-envelope-1-bottom-flap"]
    # The flap's free edge: both pictures share scale and view, so lengths agree.
    a, e = (math.radians(v) for v in (VIEWS[0].azimuth_deg, VIEWS[0].elevation_deg))
    edge = 154.0 * before.scale * math.hypot(math.cos(a), math.sin(a) * math.sin(e))
    ends = [p for run in shapely.get_parts(ghost) for p in pairwise(run.coords)]
    assert any(abs(math.dist(a, b) - edge) < 1.0 for a, b in ends)
    assert area(flap).area > 100


def test_ghosts_under_paper_are_not_drawn() -> None:
    """A mountain fold seen from the front lands behind: no ghost over the face."""
    piece = drawer()
    before = state([body(piece, centred(piece, "base"), {})])
    after = state(
        [body(piece, centred(piece, "base"), {"front wall": 180.0})],
        ((("drawer-1", "base"), ("drawer-1", "front wall"), -1),),
    )
    moving = ("front wall", "tab 1", "tab 2")
    motion = FoldMotion("drawer-1", (("front wall", 0.0, 180.0),), moving)
    drawing = draw_frame(pattern_of(piece), frame_of("fold", piece, before, [motion], after), "try")
    assert "ghost" not in drawing.signs


def test_a_fold_is_drawn_as_it_is_seen() -> None:
    """All folds are mountains. Scored with the good side up they are drawn so; folded over with
    the back up, the hand comes towards the viewer: valley, line and arrow."""
    for pattern, story, drawings in (box(), letter()):
        assert {f.bend for p in pattern.pieces for f in p.folds} == {"mountain"}
        for frame, drawing in zip(told_frames(pattern, story), drawings, strict=True):
            if frame.action.verb == "score":
                assert "valley" not in drawing.signs
    over = named(letter()[2], "step-02b")
    assert {"valley", "fold-arrow-valley"} <= set(over.signs)
    assert not {"mountain", "fold-arrow-mountain"} & set(over.signs)
    assert "back faces inside" in over.alt
    tabs = named(box()[2], "step-01d")  # two stand with their back to the viewer, two face him
    assert {"valley", "mountain"} <= set(tabs.signs)
    assert "back faces inside" in tabs.alt  # which holds from wherever they are seen
    for _, _, drawings in (box(), letter()):
        assert not [d.name for d in drawings if "Fold " in d.alt and "mountain" in d.alt]


def test_turning_round_on_the_table_has_its_own_sign() -> None:
    piece = drawer()
    before = state([body(piece, centred(piece, "base"), {})])
    motion = TurnMotion(("drawer-1",), (0.0, 0.0, 0.0), (0.0, 0.0, 1.0), 90.0)
    frame = frame_of("turn", piece, before, [motion])
    drawing = draw_frame(pattern_of(piece), frame, "try")
    assert "turn-round" in drawing.signs
    assert "90 degrees counter-clockwise" in drawing.alt


def test_nothing_on_the_table_gives_an_empty_picture_with_words() -> None:
    piece = drawer()
    frame = frame_of("fold", piece, State((), (), ()), [])
    drawing = draw_frame(pattern_of(piece), frame, "try")
    assert drawing.items == ()
    assert drawing.alt


def test_a_story_without_frames_has_a_cover_all_the_same() -> None:
    pattern, story, _ = letter()
    first = story.frames[0].before
    assert draw_story(pattern, Story((), first, {})) == ()
    cover = draw_cover(pattern, Story((), first, {}))
    assert fills(cover, "front")
    assert not draw_cover(pattern, Story((), State((), (), ()), {})).items


def test_the_cover_draws_the_drawer_out_by_a_third() -> None:
    pattern, story, _ = box()
    cover = draw_cover(pattern, story)
    assert "drawn out a third" in cover.alt
    inside = [f for f in fills(cover, "back") if f.id == "face-drawer-1-base"]
    assert area(inside[0]).area > 200  # the drawer shows its inside
    assert cover.width_mm <= 160.0 + 1e-6
    assert not strokes(cover, "hidden", "ghost", "mountain", "valley")


def test_the_cover_lifts_the_flap_that_was_closed_last() -> None:
    pattern, story, _ = letter()
    cover = draw_cover(pattern, story)
    assert "top flap lifted" in cover.alt
    assert [f.id for f in fills(cover, "back") if "top-flap" in f.id]


def test_patterned_paper_shows_its_pattern_on_the_front_only() -> None:
    cover = draw_cover(*box()[:2])
    assert [f.id for f in fills(cover, "pattern")] == ["pattern-sleeve-mat-1-sleeve-mat"]


def test_moving_parts_are_told_apart_from_the_rest() -> None:
    _, _, drawings = box()
    moving = {f.id for f in fills(named(drawings, "step-01c"), "front-moving", "back-moving")}
    assert "face-drawer-1-base" not in moving
    assert {"face-drawer-1-left-wall", "face-drawer-1-tab-1"} <= moving


def test_a_press_marks_without_moving() -> None:
    piece = drawer()
    before = state([body(piece, centred(piece, "base"), {})])
    frame = frame_of("cut", piece, before, [Mark("drawer-1", "cut", (), "front")])
    drawing = draw_frame(pattern_of(piece), frame, "try")
    assert "cut" in drawing.signs
    assert not strokes(drawing, "outline")  # the whole outline is being cut


DIGEST = """
import hashlib
from publisher.assembly import assemble
from publisher.drawing.space_view import draw_cover, draw_story
from tests.handmade import envelope_pattern, sliding_box_pattern
for pattern in (sliding_box_pattern(), envelope_pattern()):
    story, _ = assemble(pattern)
    text = repr((draw_story(pattern, story), draw_cover(pattern, story)))
    print(hashlib.sha256(text.encode()).hexdigest())
"""


def test_the_same_drawings_under_any_hash_seed() -> None:
    found = set()
    for seed in ("0", "1", "77"):
        run = subprocess.run(
            [sys.executable, "-c", DIGEST],
            cwd=ROOT,
            env={**os.environ, "PYTHONHASHSEED": seed, "PYTHONPATH": str(ROOT)},
            capture_output=True,
            text=True,
            check=True,
        )
        found.add(run.stdout)
    here = []
    for pattern, story, drawings in (box(), letter()):
        text = repr((drawings, draw_cover(pattern, story)))
        here.append(hashlib.sha256(text.encode()).hexdigest())
    assert found == {"\n".join(here) + "\n"}
