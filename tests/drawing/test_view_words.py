"""Alternative text: every moving part, direction, fold and glue zone is said."""

from __future__ import annotations

import pytest

from publisher.assembly import FoldMotion, Mark, MoveMotion
from publisher.drawing.space_view import told_frames
from publisher.drawing.space_view.lists import listed, the
from publisher.drawing.space_view.words import angle, heading
from tests.drawing.view_scenes import box, letter, named


@pytest.mark.parametrize("case", [box(), letter()], ids=["box", "letter"])
def test_every_moving_part_angle_and_zone_is_named(case) -> None:
    pattern, story, drawings = case
    pieces = {b: pattern.piece(p) for b, p in story.body_pieces.items()}
    for frame, drawing in zip(told_frames(pattern, story), drawings, strict=True):
        said = drawing.alt.lower()
        for motion in frame.motions:
            if isinstance(motion, FoldMotion):
                piece = pieces[motion.body]
                for facet in motion.moving:
                    assert piece.facet(facet).panel in said
                for name, start, end in motion.folds:
                    assert piece.fold(name).bend in said
                    assert angle(abs(end - start)) in said
            elif isinstance(motion, MoveMotion):
                for body in motion.bodies:
                    assert pieces[body].name in said
                assert "moving" in said
            elif isinstance(motion, Mark) and motion.what == "glue":
                assert f"{motion.face} face" in said
                for zone in pieces[motion.body].glue_zones:
                    if zone.name in motion.names:
                        assert zone.name in said
                        assert zone.meets is None or zone.meets[1] in said


def test_folds_say_which_way_and_which_faces_meet() -> None:
    _, _, drawings = box()
    up = named(drawings, "step-01c").alt
    assert "left wall and right wall of the drawer up: mountain folds of 90 degrees" in up
    assert "the back faces turn towards each other" in up
    assert "Tab 1, tab 2, tab 3 and tab 4 move along." in up
    assert "of the drawer in: mountain folds" in named(drawings, "step-01d").alt
    over = named(letter()[2], "step-01c").alt
    assert "over, flat: mountain folds of 180 degrees" in over
    assert "the back faces come to lie on each other" in over


def test_what_lies_there_before_is_said() -> None:
    _, _, drawings = box()
    assert "the drawer lies flat, front face up" in named(drawings, "step-01a").alt
    assert "the drawer lies flat, back face up" in named(drawings, "step-01c").alt
    assert "the drawer is partly folded" in named(drawings, "step-01d").alt
    assert "the envelope is partly folded and flat" in named(letter()[2], "step-02b").alt


def test_glue_seen_through_the_paper_is_said() -> None:
    _, _, drawings = box()
    text = named(drawings, "step-02").alt
    assert "The glue of tab 2 and tab 4 lies on the side turned away" in text
    assert "opens the left wall and right wall of the drawer again" in text
    assert "side turned away" not in named(letter()[2], "step-02a").alt


def test_turning_over_says_how_and_what_comes_up() -> None:
    text = named(box()[2], "step-01b").alt
    assert text.startswith("Turn the drawer over, so that the near edge goes to the far side.")
    assert "Its back face is up then." in text


def test_moves_say_where_to() -> None:
    _, _, drawings = box()
    assert named(drawings, "step-04").alt.startswith("Slide the drawer into the sleeve, moving")
    assert "Lay the sleeve mat on panel 1 of the sleeve, moving down." in (
        named(drawings, "step-03a").alt
    )
    wrapped = named(drawings, "step-03b").alt
    assert wrapped.startswith("Set the drawer on panel 3 of the sleeve, moving down.")
    assert "the sleeve lies flat, back face up" in wrapped
    assert named(drawings, "step-03c").alt.startswith("Fold panel 4 and overlap of the sleeve up:")
    assert named(drawings, "step-03d").alt.startswith("Fold panel 2 and panel 1 of the sleeve up:")


def test_scores_are_told_by_bend() -> None:
    text = named(letter()[2], "step-01a").alt
    assert text.startswith(
        "Score the envelope on its front face: mountain lines for the left side, right side, "
        "bottom flap and top flap."
    )


def test_no_sentence_runs_together() -> None:
    for drawing in (*box()[2], *letter()[2]):
        assert drawing.alt.endswith(".")
        assert "  " not in drawing.alt
        assert ".." not in drawing.alt


def test_small_words() -> None:
    assert listed([]) == ""
    assert listed(["a", "b", "a", "c"]) == "a, b and c"
    assert the(["lid", "base"]) == "the lid and base"
    assert the(["tab 1", "tab 2"]) == "tab 1 and tab 2"
    assert angle(90.0) == "90 degrees"
    assert angle(22.5) == "22.5 degrees"
    assert heading((0.0, 0.0, -3.0)) == "down"
    assert heading((-3.0, 1.0, 0.0)) == "to the left"
    assert heading((0.0, 2.0, 0.0)) == "away from you"
