"""Alternative text: how a fold, a turn, a move and glue are told, of two patterns worked out by
hand. ``test_alt_content`` holds the texts of all content to the computed motions."""

from __future__ import annotations

from msgspec.structs import replace

from publisher.assembly import TurnMotion
from publisher.drawing.space_view import Setting, draw_frame, draw_story
from publisher.drawing.space_view.camera import View
from publisher.drawing.space_view.lists import gathered, listed, plural, the
from publisher.drawing.space_view.place_words import angle, heading, side
from tests.compiled import told_by
from tests.drawing.view_scenes import box, letter, named


def test_folds_say_at_which_crease_which_way_and_where_they_end() -> None:
    _, _, drawings = box()
    up = named(drawings, "step-01c").alt
    assert up == (
        "Fold the front, back, left and right walls of the drawer up by 90 degrees each, to stand "
        "upright, back faces inside. The front wall hinges at the far edge of the base, the back "
        "wall at its near edge, the left wall at its left edge and the right wall at its right "
        "edge. Tabs 1 to 4 move along."
    )
    inwards = named(drawings, "step-01d").alt
    assert inwards.startswith("Fold tabs 1 to 4 of the drawer inwards by 90 degrees each")
    assert "Tabs 1 and 3 end against the back face of the left wall" in inwards
    over = named(letter()[2], "step-02b").alt
    assert over == (
        "Fold the bottom flap of the envelope up and over by 180 degrees at the far edge of the "
        "centre, flat onto the left and right sides, back faces inside."
    )


COPIES = """
```piece strip, 2 copies, in card
panels   down, 60 mm wide, mountain: back = 90 mm, front = 40 mm, rim = 50 mm
```

```step
turn     over strip
fold     front of strip by 90 degrees
fold     rim of strip by 90 degrees
turn     over strip
```
"""


def test_of_copies_it_is_told_how_each_lies() -> None:
    flat, _, _, folded = (drawing.alt for drawing in draw_story(*told_by(COPIES)))
    assert "Turn strips 1 and 2 over" in flat
    assert "Then the back face of each is up" in flat
    assert "and each rests on its rim." in folded
    assert "its back" not in flat
    assert " it " not in flat + folded


def test_what_is_new_is_told_how_it_lies_and_only_then() -> None:
    _, _, drawings = box()
    first = named(drawings, "step-01a").alt
    assert (
        "Before this, the drawer lies flat, front face up, the left wall at the left, the right "
        "wall at the right, the front wall and tabs 1 and 2 nearest you and the back wall and "
        "tabs 3 and 4 at the far side." in first
    )
    assert "Left, right, near and far are as you sit at the table. Seen from" in first
    for name in ("step-01b", "step-01c", "step-01d"):
        assert "Before this" not in named(drawings, name).alt
        assert "Seen from" not in named(drawings, name).alt
    assert "the drawer rests on its base, open at the top" in named(drawings, "step-03b").alt


def test_glue_is_told_by_face_edges_width_and_partner() -> None:
    tabs = named(box()[2], "step-02").alt
    assert tabs.startswith("Put glue all over the front face of tabs 1 to 4 of the drawer. Tabs 1")
    assert "opens" not in tabs
    assert "To reach it open the left and right walls of the drawer again" in tabs
    strips = named(letter()[2], "step-02a").alt
    assert strips.startswith("Put glue on the back face of the bottom flap of the envelope, which")
    assert "which is up, along the left and right edges, 10 mm wide." in strips
    assert "The left strip meets the left side and the right strip meets the right side" in strips


def test_turning_over_says_how_and_what_is_where_then() -> None:
    text = named(box()[2], "step-01b").alt
    assert text.startswith("Turn the drawer over, so that the near edge goes to the far side.")
    assert "Then its back face is up, the back wall and tabs 3 and 4 are nearest you" in text


def test_moves_say_where_to_and_where_they_end() -> None:
    _, _, drawings = box()
    assert named(drawings, "step-04").alt.startswith("Slide the drawer to the left into the sleeve")
    assert "Lay the sleeve mat, front face up, on panel 1 of the sleeve, 4 mm from every edge." in (
        named(drawings, "step-03a").alt
    )
    wrapped = named(drawings, "step-03b").alt
    assert wrapped.startswith("Set the drawer on panel 3 of the sleeve, middle on middle.")
    assert named(drawings, "step-03c").alt.startswith(
        "Fold panel 4 and the overlap of the sleeve up by 90 degrees each, back faces inside. "
        "Panel 4 hinges at the far edge of panel 3, then the overlap in turn."
    )
    assert named(drawings, "step-03d").alt.startswith("Fold panels 2 and 1 of the sleeve up by 90")


def test_scores_are_counted_with_the_way_they_run() -> None:
    text = named(letter()[2], "step-01a").alt
    assert text.startswith(
        "Score the envelope on its front face: 2 mountain lines from near to far for the left and "
        "right sides and 2 from left to right for the bottom and top flaps."
    )


def test_sides_are_those_of_the_seat_when_the_view_goes_round() -> None:
    """From the other side the wall that was far is near, and what was left is right."""
    pattern, story, _ = box()
    frame = next(f for f in story.frames if f.action.verb == "fold")
    here, there = (
        draw_frame(pattern, frame, "try", Setting(View(azimuth, 48.0), 0.5)).alt
        for azimuth in (-30.0, 150.0)
    )
    assert "The front wall hinges at the far edge of the base" in here
    assert "The front wall hinges at the near edge of the base" in there
    assert "the left wall at its right edge" in there
    assert "from the front left" in here
    assert "from the front left" in there


def test_a_turn_of_the_view_is_a_turn_of_the_thing_in_words() -> None:
    pattern, story, _ = box()
    frame = next(f for f in story.frames if f.action.verb == "fold")
    turn = TurnMotion(("drawer-1",), (0.0, 0.0, 0.0), (0.0, 0.0, 1.0), -180.0)
    only = replace(frame, motions=(turn,), after=frame.before)
    said = draw_frame(pattern, only, "try").alt
    assert said.startswith("Turn the drawer round by 180 degrees clockwise as seen from above")
    assert "Then the right wall is at the left, the left wall at the right" in said
    assert "the front wall and tabs 1 and 2 are nearest you and the back wall and tabs 3" in said


def test_a_crease_across_one_panel_has_the_part_on_its_side_turned() -> None:
    pattern, story = told_by(LINED)
    (folded,) = [d for d in draw_story(pattern, story) if "Fold " in d.alt]
    assert folded.alt.startswith(
        "Fold the right part of the card up and over by 180 degrees at its crease, flat, front"
    )


LINED = """
```piece card, in card
outline  rectangle, 140 x 90 mm
score    along 70 mm right of left, valley, called spine
```
```step
fold     spine of card
```
"""


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
    assert side((0.0, -1.0, 0.1)) == "near"
    assert side((-1.0, 1.0, 0.0)) == "far left"
    assert side((0.0, 0.0, 2.0)) == "top"


def test_names_are_gathered_by_what_neighbours_share() -> None:
    assert gathered(["side 1", "side 3", "side 4", "seam"]) == "sides 1, 3 and 4 and the seam"
    assert gathered(["foot 1", "foot 2", "foot 3"]) == "feet 1 to 3"
    assert gathered(["left wall", "right wall", "base"]) == "the left and right walls and the base"
    assert gathered(["panel 2", "panel 1"]) == "panels 2 and 1"
    assert gathered(["lid", "backing 2"]) == "the lid and backing 2"
    assert plural("left half") == "left halves"
