"""Cards opened and closed all the way, with figures by hand."""

from __future__ import annotations

import math

import pytest
from msgspec.structs import replace

from publisher.assembly import State, assemble, opening
from publisher.model.types import Pattern, Piece
from tests.assembly.build import do, folds, part, pattern, strip
from tests.folding.popup import one_step, two_steps


def told(*pieces: Piece) -> tuple[Pattern, State]:
    made = pattern(pieces, *(do("press", part(p.name)) for p in pieces))
    story, _ = assemble(made)
    return made, story.end


@pytest.mark.parametrize("piece", [one_step(), two_steps()], ids=["one", "two"])
def test_a_card_with_steps_opens(piece: Piece) -> None:
    found = opening(*told(piece), "page", 180.0)
    assert found is not None
    assert (found.from_deg, found.to_deg) == (0.0, 180.0)
    assert (found.stuck, found.against, found.crossing, found.out) == ((), (), None, ())
    assert found.looks == 37
    assert found.gap_mm < 1e-9
    # Reach of the large step 50 + 30 = 80, of the small one 30 + 20 + 15 = 65; the half is 105.
    assert found.inside_mm == pytest.approx(25.0)


@pytest.mark.parametrize(("rise", "out"), [(75.0, 0.0), (90.0, 15.0), (104.0, 29.0)])
def test_a_step_that_reaches_beyond_the_half_sticks_out(rise: float, out: float) -> None:
    """Reach is rise and tread together, of which the half has room for 105."""
    found = opening(*told(one_step(rise)), "page", 180.0)
    assert found is not None
    assert max((mm for _, mm in found.out), default=0.0) == pytest.approx(out)


def test_it_is_opened_as_far_as_is_asked() -> None:
    found = opening(*told(one_step()), "page", 90.0)
    assert found is not None
    assert (found.from_deg, found.to_deg, found.looks) == (0.0, 90.0, 19)


def test_what_the_story_left_folded_does_not_matter() -> None:
    made = pattern([one_step()], do("fold", *folds("page", "lower"), by=120.0))
    open_card = opening(made, assemble(made)[0].end, "page", 180.0)
    assert open_card == opening(*told(one_step()), "page", 180.0)


def lower_nose(y: float) -> Piece:
    """The step with its nose elsewhere: tread y - 55, front 135 - y."""
    piece, at = one_step(), {"start": (99.0, y), "end": (49.0, y)}
    return replace(
        piece,
        folds=tuple(replace(f, **at) if f.name == "nose" else f for f in piece.folds),
        hinges=tuple(replace(h, **at) if h.fold == "nose" else h for h in piece.hinges),
    )


def test_a_step_whose_front_is_too_short_jams() -> None:
    """Tread 65, front 15: head and foot cannot come nearer than 50, and closed they are 50 - 30
    = 20 apart. With sides 50 and 30 the card cannot be closed further than to 72.54 degrees:
    50^2 = 50^2 + 30^2 - 2 * 50 * 30 * cos(72.54)."""
    found = opening(*told(lower_nose(120.0)), "page", 180.0)
    assert found is not None
    assert found.stuck == (("page-1", "lower"),)
    least = math.degrees(math.acos((50**2 + 30**2 - 50**2) / (2 * 50 * 30)))
    assert least == pytest.approx(72.54, abs=0.01)
    # Looked at every 5 degrees.
    assert least <= found.from_deg < least + 5.0
    assert found.to_deg == 180.0


def test_a_step_whose_tread_is_a_little_too_long_goes_through_the_page() -> None:
    """Tread 35, front 45: it closes, but into a triangle of sides 20, 35 and 45 that needs the
    other half's room."""
    found = opening(*told(lower_nose(90.0)), "page", 180.0)
    assert found is not None
    assert not found.stuck
    assert found.crossing is not None
    assert {found.crossing.first[1], found.crossing.second[1]} <= {"front", "tread", "lower"}


def test_paper_that_meets_on_the_way_is_found() -> None:
    """Three panels, each turned by 130 degrees at the end: the third runs through the first."""
    made, state = told(strip("fan", [60.0, 60.0, 90.0], 80.0, closing=130.0))
    found = opening(made, state, "fan", 180.0)
    assert found is not None
    assert found.crossing is not None
    assert found.crossing.depth_mm > 1.0


def test_a_plain_sheet_has_nothing_to_open() -> None:
    assert opening(*told(strip("sheet", [60.0], 40.0)), "sheet", 180.0) is None


def test_a_plain_card_has_nothing_inside() -> None:
    found = opening(*told(strip("card", [60.0, 60.0], 40.0, "v")), "card", 180.0)
    assert found is not None
    assert math.isinf(found.inside_mm)
    assert found.crossing is None
