"""Pieces as a ruler makes them, and papers that a pattern accepts."""

from __future__ import annotations

import pytest

from publisher.checks.papers import accepted, in_stock
from publisher.checks.prisms import plate
from publisher.checks.ruler_marks import choices, chosen, marks_for
from publisher.checks.ruler_verdicts import ruler_verdicts
from publisher.checks.rulers import as_ruled, fits_by_ruler, holding_in, printed
from publisher.checks.run import run_made
from publisher.drawing.flat.alt import piece_alt
from publisher.drawing.flat.scaling import Scale
from publisher.model.types import Piece
from publisher.pipeline import check_pattern
from publisher.units import MM_PER_INCH, both
from publisher.workshop import with_chosen_marks
from tests.checks.test_mending import design, tray
from tests.checks.test_tolerances import context
from tests.compiled import compile_text, workshop


def piece(body: str) -> Piece:
    outcome = compile_text(body)
    assert outcome.pattern is not None
    return outcome.pattern.pieces[0]


def test_panels_are_set_out_from_each_other() -> None:
    """84 across and 20 deep are 3 5/16 and 13/16 in by the nearest sixteenth."""
    made = piece(tray())
    ruled = as_ruled(made, printed((made,), "in"))
    assert ruled.panel("base").width_mm == pytest.approx(53 / 16 * MM_PER_INCH)
    assert ruled.panel("left wall").width_mm == pytest.approx(13 / 16 * MM_PER_INCH)
    x0, _, x1, _ = ruled.bounds
    assert x1 - x0 == pytest.approx((53 + 26) / 16 * MM_PER_INCH)
    assert as_ruled(made, printed((made,), "mm")).bounds == pytest.approx(made.bounds)


def verdicts(body: str) -> dict[str, str]:
    return {r.subject: r.result for r in ruler_verdicts(context(body))}


TIGHT = tray(stack="80 x 60 x 18 mm", room="1.25 mm", margin="1 mm to 6 mm")
"""80 + 1.25 across is 81.25 mm, in inches 3 3/16 (80.96): less than a millimetre is left of a
stack that needs one and has 1.25."""


def test_a_rounding_that_breaks_a_fit_is_printed_on_another_mark() -> None:
    """The nearest mark that leaves the stack its millimetre is 3 7/32 in (81.76 mm)."""
    made = context(TIGHT)
    by_rounding = fits_by_ruler(made, printed(made.pattern.pieces, "in"))
    assert [r.result for r in by_rounding if r.subject == "stack in tray"] == ["fail"]
    holding = holding_in(fits_by_ruler(made, {}))
    found = chosen(made, "in", holding)
    assert found is not None
    assert [(mm, to) for _, mm, to in found] == [
        (pytest.approx(81.25), pytest.approx((3 + 7 / 32) * MM_PER_INCH))
    ]
    again = fits_by_ruler(made, printed(made.pattern.pieces, "in", found))
    assert holding <= holding_in(again)
    assert verdicts(TIGHT) == {
        "a ruler in millimetres": "pass",
        "stack in tray by a ruler in inches": "warning",
    }
    (told,) = [r.finding for r in ruler_verdicts(made) if r.finding is not None]
    assert told.message.endswith("other marks are printed, and it fits")
    assert told.notes == (
        "Printed instead, so that it fits: base of tray wide (and 2 more) 3 7/32 in.",
    )


def test_no_mark_of_the_ruler_does() -> None:
    """Between 82.95 and 83.05 mm lies no mark of an inch ruler: 3 1/4 are 82.55, 3 9/32 83.34."""
    body = tray(stack="80 x 60 x 18 mm", room="3 mm", margin="2.95 mm to 3.05 mm")
    results = {r.subject: r for r in ruler_verdicts(context(body))}
    wrong = results["stack in tray by a ruler in inches"]
    assert wrong.result == "warning"
    assert wrong.finding is not None
    assert wrong.finding.notes == ("No other marks were found with which everything fits.",)
    assert wrong.finding.places


def test_marks_that_a_length_lies_between() -> None:
    """3 mm lies between 1/16 and 1/8, and between 3/32 and 1/8 in."""
    inches = [mm / MM_PER_INCH for mm in marks_for(3.0, "in")]
    assert inches == pytest.approx([1 / 8, 3 / 32, 1 / 16])
    assert marks_for(81.3, "mm") == (81.5, 81.0)
    assert marks_for(1.2, "mm") == ()


def test_chosen_marks_are_printed_wherever_the_length_is() -> None:
    outcome = compile_text(TIGHT)
    made = with_chosen_marks(outcome, workshop().trade)
    assert made.pattern is not None
    assert outcome.pattern is not None
    assert choices(outcome.pattern, outcome.checks, context(TIGHT)) == made.pattern.meta.chosen
    ruler = made.pattern.meta.ruler
    assert both(81.25, first=ruler) == "81.5 mm (3 7/32 in)"
    assert both(81.25, first=outcome.pattern.meta.ruler) == "81.5 mm (3 3/16 in)"
    told = piece_alt(made.pattern, made.pattern.pieces[0], Scale(1, (0.0, 0.0)))
    assert "base 81.5 × 63 mm (3 7/32 × " in told


def test_a_polygon_stays_one() -> None:
    """Drawn by its measure from side to side: 70.75 mm are 2 13/16 in."""
    outcome = check_pattern(workshop(), "hexagon-box")
    assert outcome.pattern is not None
    pattern = outcome.pattern
    floor = pattern.piece("box floor")
    ruled = as_ruled(floor, printed((floor,), "in"))
    whole = plate(ruled)
    assert whole is not None
    assert whole.sides == 6
    assert whole.across_mm == pytest.approx((2 + 13 / 16) * MM_PER_INCH)


def test_papers_by_caliper() -> None:
    """Two tabs inside take two thicknesses: 0.8 mm to spare in card, of which 0.25 must stay."""
    body = tray(room="0.8 mm", margin="0.25 mm to 3 mm").replace(
        "```\n\n```fits",
        "tab      on left and right of front wall, 10 mm deep, 2 mm taper, mountain by 90 degrees,"
        "\n         meets bottom of left wall and bottom of right wall\n```\n\n```fits",
    )
    body = body.replace("in card", "in cover 65").replace(
        "fold     each wall of tray",
        "fold     each wall and each tab of tray\nglue each tab of tray",
    )
    program, pattern = design(body)
    found = accepted(program, pattern, workshop().trade, run_made)
    numbers = dict(found.numbers)
    # 0.8 - 2 t >= 0.25 where t <= 0.275: cover 65 (0.24) will do, cover 80 (0.29) will not.
    for name, stock in workshop().trade.stocks.items():
        holds = float(stock.caliper_mm <= 0.275)
        assert numbers[f"{name.replace(' ', '_')}_accepted"] == holds
    assert "these will not: cover 80 (0.29 mm)" in found.sentence


def test_another_paper_changes_every_piece_of_the_first() -> None:
    program, _ = design(tray())
    other = in_stock(program, "card", "paper")
    assert {p.stock.text for p in other.pieces if p.stock is not None} == {"paper"}
