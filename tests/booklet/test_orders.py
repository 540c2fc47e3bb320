"""An action as a short order."""

from __future__ import annotations

import pytest
from msgspec.structs import replace

from publisher.booklet.orders import order
from publisher.model.types import Action, Target
from tests.handmade import at, envelope_pattern, parts, piece_target, sliding_box_pattern

SPAN = at("x.md", 1)


def action(verb: str, *subjects: Target, **more: object) -> Action:
    plain = Action(verb, subjects, "", (), None, "", None, SPAN)
    return replace(plain, **more)


def test_the_sliding_box_in_orders() -> None:
    said = [order(a) for step in sliding_box_pattern().steps for a in step.actions]
    assert said == [
        "Score the drawer",
        "Turn the drawer over",
        "Fold the front, back, left and right walls of the drawer",
        "Fold tabs 1 to 4 of the drawer",
        "Glue tabs 1 to 4 of the drawer",
        "Glue the sleeve mat to panel 1 of the sleeve",
        "Wrap the sleeve around the drawer",
        "Glue the overlap of the sleeve",
        "Slide the drawer into the sleeve",
    ]


def test_the_envelope_in_orders() -> None:
    said = [order(a) for step in envelope_pattern().steps for a in step.actions]
    assert said[3] == "Put glue on strips 1 and 2 of the envelope"
    assert said[4] == "Fold the bottom flap of the envelope"


@pytest.mark.parametrize(
    ("subjects", "said"),
    [
        (parts("fold", "box", "tab 1", "tab 3"), "Fold tabs 1 and 3 of the box"),
        (parts("fold", "box", "lid", "front wall"), "Fold the lid and the front wall of the box"),
        (
            (*parts("fold", "tray", "wall"), *parts("fold", "lid", "wall")),
            "Fold the wall of the tray and the wall of the lid",
        ),
        ((Target("piece", "divider", copy=2),), "Fold divider 2"),
    ],
)
def test_lists_of_parts(subjects: tuple[Target, ...], said: str) -> None:
    assert order(action("fold", *subjects)) == said


def test_angles_and_faces_are_said() -> None:
    folded = action("fold", *parts("fold", "card", "flap"), angle_deg=45.0)
    assert order(folded) == "Fold the flap of the card, by 45°"
    scored = action("score", piece_target("card"), face="back")
    assert order(scored) == "Score the card, on the back face"
    assert order(action("turn", piece_target("card"))) == "Turn the card round"


@pytest.mark.parametrize(
    ("names", "said"),
    [
        (("foot 1", "foot 2", "foot 3"), "feet 1 to 3"),
        (("upper half", "lower half"), "the upper and lower halves"),
        (("left box 1", "left box 2"), "left boxes 1 and 2"),
        (("tray 1", "tray 2"), "trays 1 and 2"),
        (("bay 1", "bay 2", "entry 1", "entry 2"), "bays 1 and 2 and entries 1 and 2"),
    ],
)
def test_several_of_a_kind_have_their_plural(names: tuple[str, ...], said: str) -> None:
    assert said in order(action("fold", *parts("panel", "drawer", *names)))
