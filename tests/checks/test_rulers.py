"""Pieces as a ruler makes them, and papers that a pattern accepts."""

from __future__ import annotations

import pytest

from publisher.checks.papers import accepted, in_stock
from publisher.checks.rulers import Dimension, as_ruled, chosen, printed, ruler_verdicts
from publisher.checks.run import run_made
from publisher.model.types import Piece
from publisher.units import MM_PER_INCH
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
    ruled = as_ruled(made, printed(made, "in"))
    assert ruled.panel("base").width_mm == pytest.approx(53 / 16 * MM_PER_INCH)
    assert ruled.panel("left wall").width_mm == pytest.approx(13 / 16 * MM_PER_INCH)
    x0, _, x1, _ = ruled.bounds
    assert x1 - x0 == pytest.approx((53 + 26) / 16 * MM_PER_INCH)
    assert as_ruled(made, printed(made, "mm")).bounds == pytest.approx(made.bounds)


def verdicts(body: str) -> dict[str, str]:
    return {r.subject: r.result for r in ruler_verdicts(context(body))}


def test_a_rounding_that_breaks_a_fit() -> None:
    """80.75 + 0.5 across is 81.25 mm, in inches 3 3/16 (80.96): less than a millimetre is left
    of a stack that needs one and has 1.25."""
    body = tray(stack="80 x 60 x 18 mm", room="1.25 mm", margin="1 mm to 6 mm")
    assert verdicts(body) == {
        "a ruler in millimetres": "pass",
        "stack in tray by a ruler in inches": "warning",
    }


def test_figures_are_chosen_with_which_the_fit_holds() -> None:
    body = tray(stack="80 x 60 x 18 mm", room="1.25 mm", margin="1 mm to 6 mm")
    made = piece(body)
    figures = printed(made, "in")
    better = chosen(context(body), "in", figures, {"stack in tray"})
    assert better is not None
    base = Dimension("tray", "base", 0)
    assert {d for d in figures if better[d] != figures[d]} == {base}
    assert better[base] == pytest.approx((3 + 4 / 16) * MM_PER_INCH)
    (wrong,) = [r for r in ruler_verdicts(context(body)) if r.finding is not None]
    assert wrong.finding is not None
    assert wrong.finding.notes == (
        "It fits when these are printed so: base of tray wide 3 1/4 in.",
    )


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
