"""Actions that name several things, or every copy of one: each of them gets where it goes."""

from __future__ import annotations

import pytest
from msgspec.structs import replace

from publisher.assembly import Body, MoveMotion, Story, assemble
from publisher.assembly.bodies import box
from publisher.assembly.kit import kit_of
from publisher.model.types import Pattern, Piece
from tests.assembly.build import do, panels, part, pattern, sheet, strip, tray
from tests.handmade import drawer, sleeve

CARD = sheet("card", 100, 60)
PHOTO = sheet("photo", 60, 40)
FRAME = sheet("frame", 80, 50)
BOTH = (part("photo"), part("frame"))


def told(made: Pattern) -> Story:
    story, findings = assemble(made)
    assert findings == []
    return story


def copies(piece: Piece, count: int) -> Piece:
    return replace(piece, copies=count)


def order(story: Story) -> list[tuple[str, str]]:
    """(lower, upper) bodies."""
    return [(lower[0], upper[0]) for lower, upper, _ in story.end.above]


def inside(made: Pattern, inner: Body, outer: Body) -> bool:
    """Whether one body's box lies in the other's, across and down."""
    kit = kit_of(made)
    (a0, a1), (b0, b1) = box(kit, [inner]), box(kit, [outer])
    return all(b0[i] <= a0[i] and a1[i] <= b1[i] for i in (0, 1))


def test_what_is_laid_at_once_lies_as_if_laid_in_turn() -> None:
    at_once = told(
        pattern([CARD, PHOTO, FRAME], do("lay", *BOTH, to="on", objects=(part("card"),)))
    )
    in_turn = told(
        pattern(
            [CARD, PHOTO, FRAME],
            do("lay", part("photo"), to="on", objects=(part("card"),)),
            do("lay", part("frame"), to="on", objects=(part("card"),)),
        )
    )
    assert all(body.placed for body in at_once.end.bodies)
    assert order(at_once) == order(in_turn)
    for body in ("card-1", "photo-1", "frame-1"):
        assert at_once.end.body(body).pose.shift == pytest.approx(in_turn.end.body(body).pose.shift)
    moved = [m.bodies for m in at_once.frames[0].motions if isinstance(m, MoveMotion)]
    assert moved == [("photo-1",), ("frame-1",)]


def test_at_the_beginning_they_lie_side_by_side() -> None:
    made = pattern([CARD, PHOTO, FRAME], do("lay", *BOTH, to="on", objects=(part("card"),)))
    assert told(made).frames[0].before.above == ()


def test_of_two_glued_at_once_the_later_one_lies_on_the_other() -> None:
    made = pattern([CARD, PHOTO, FRAME], do("glue", *BOTH, to="to", objects=(part("card"),)))
    assert ("photo-1", "frame-1") in order(told(made))
    turned = pattern(
        [CARD, PHOTO, FRAME], do("glue", *BOTH[::-1], to="to", objects=(part("card"),))
    )
    assert ("frame-1", "photo-1") in order(told(turned))


def test_lists_pair_in_order() -> None:
    made = pattern(
        [copies(tray("tray", 100, 60, 20), 2), PHOTO, FRAME],
        do("fold", part("tray")),
        do("slide", *BOTH, to="into", objects=(part("tray"),)),
    )
    end = told(made).end
    assert inside(made, end.body("photo-1"), end.body("tray-1"))
    assert inside(made, end.body("frame-1"), end.body("tray-2"))


def test_every_copy_has_its_own_partner() -> None:
    made = pattern(
        [copies(drawer(), 2), copies(sleeve(), 2)],
        do("fold", part("drawer")),
        do("wrap", part("sleeve"), to="around", objects=(part("drawer"),)),
    )
    end = told(made).end
    for copy in (1, 2):
        sleeve_box = box(kit_of(made), [end.body(f"sleeve-{copy}")])
        drawer_box = box(kit_of(made), [end.body(f"drawer-{copy}")])
        for axis in range(3):
            assert sleeve_box[0][axis] <= drawer_box[0][axis] + 1e-6
            assert drawer_box[1][axis] <= sleeve_box[1][axis] + 1e-6


def test_several_go_to_one_in_turn() -> None:
    made = pattern(
        [tray("tray", 100, 60, 20), PHOTO, FRAME],
        do("fold", part("tray")),
        do("slide", *BOTH, to="into", objects=(part("tray"),)),
    )
    end = told(made).end
    assert inside(made, end.body("photo-1"), end.body("tray-1"))
    assert inside(made, end.body("frame-1"), end.body("tray-1"))


def test_what_holds_to_an_earlier_one_is_carried_once() -> None:
    made = pattern(
        [tray("tray", 100, 60, 20), FRAME, PHOTO],
        do("fold", part("tray")),
        do("glue", part("photo"), to="to", objects=(part("frame"),)),
        do("slide", part("frame"), part("photo"), to="into", objects=(part("tray"),)),
    )
    motions = told(made).frames[-1].motions
    assert [m.bodies for m in motions] == [("frame-1", "photo-1")]


@pytest.mark.parametrize("verb", ["slide", "wrap"])
def test_one_thing_to_several_is_not_worked_out(verb: str) -> None:
    to = "into" if verb == "slide" else "around"
    made = pattern(
        [copies(tray("tray", 100, 60, 20), 2), PHOTO],
        do("fold", part("tray")),
        do(verb, part("photo"), to=to, objects=(part("tray"),)),
    )
    _, findings = assemble(made)
    assert [d.code for d in findings] == ["not-yet"]
    assert findings[0].notes == ("Say which one goes where, each in a line of its own.",)


def test_papers_of_which_nothing_can_be_said_are_named_by_their_copies() -> None:
    made = pattern(
        [CARD, copies(PHOTO, 2)], do("glue", part("photo"), to="to", objects=(part("card"),))
    )
    _, findings = assemble(made)
    assert [d.code for d in findings] == ["layers-undecided"]
    assert findings[0].message == "it cannot be said which lies on top: photo 1 or photo 2"


def test_panels_of_which_nothing_can_be_said_are_named_with_their_piece() -> None:
    made = pattern(
        [CARD, copies(strip("booklet", [60], 40), 2)],
        do("glue", *panels("booklet", "a"), to="to", objects=(part("card"),)),
    )
    _, findings = assemble(made)
    assert [d.message for d in findings] == [
        "it cannot be said which lies on top: a of booklet 1 or a of booklet 2"
    ]
