"""Worked figures of the craft that a piece must be able to say.

Common practice, no source: all figures below are the trade's own sums, worked here by hand.
"""

from __future__ import annotations

import math

import pytest

from publisher.geometry.measure import area
from publisher.geometry.path import Arc
from publisher.model.folding import closed_size
from tests.model.making import made, piece
from tests.model.sources import FRONT

INCH = 25.4


@pytest.mark.parametrize(
    "lines",
    [
        "panels across, 5 in high, mountain: left flap = 2 in, centre = 3 in, right flap = 2 in",
        "outline rectangle, 7 x 5 in\n"
        "score along 2 in right of left, mountain\n"
        "score along 5 in right of left, mountain",
    ],
    ids=["chain", "scored blank"],
)
def test_a_7_by_5_blank_scored_at_2_and_5_closes_to_3_by_5(lines: str) -> None:
    trial = piece(lines)
    assert trial.bounds == pytest.approx((0.0, 0.0, 7 * INCH, 5 * INCH))
    at = sorted(s.path.start[0] for s in trial.scores)
    assert at == pytest.approx([2 * INCH, 5 * INCH])
    width, height, deep = closed_size(trial)
    assert (width, height) == pytest.approx((3 * INCH, 5 * INCH))
    # Two flaps of 2 in over 3 in lie double for 1 in: three papers there.
    assert deep == pytest.approx(3 * trial.stock.caliper_mm)
    assert 2 + 2 - 3 == 1


def test_a_mat_of_1_3_4_by_4_3_4_on_a_2_by_5_panel_leaves_1_8() -> None:
    pattern = made(
        FRONT + "```piece tag, in card\noutline rectangle, 2 x 5 in\n```\n\n"
        "```piece tag mat, in patterned paper\nmat on tag, 1/8 in border\n```\n"
    )
    mat = pattern.piece("tag mat")
    assert mat.bounds[2:] == pytest.approx((1.75 * INCH, 4.75 * INCH))


def test_a_circle_on_the_mats_own_edge_leaves_an_uneven_ring() -> None:
    """A 1 in notch in a panel's edge, and a 1 1/4 in half circle on the edge of a mat that
    lies 1/8 in inside: the ring of card between the two arcs runs from 1/8 + 5/8 - 1/2 in
    = 1/4 in at the middle to about 0.14 in at the mat's edge."""
    pattern = made(
        FRONT + "```piece pocket, in card\npanel front, 5 x 3 in\n"
        "notch half round, 1 in wide, at middle of top of front\n```\n\n"
        "```piece pocket mat, in patterned paper\n"
        "mat on front of pocket, 1/8 in border, plain\n"
        "notch half round, 1 1/4 in wide, at middle of top\n```\n"
    )
    pocket, mat = pattern.pieces
    (card_arc,) = [s for s in pocket.outline.outer.segments if isinstance(s, Arc)]
    (mat_arc,) = [s for s in mat.outline.outer.segments if isinstance(s, Arc)]
    shift = mat.derived.offset  # type: ignore[union-attr]
    centre = (mat_arc.centre[0] + shift[0], mat_arc.centre[1] + shift[1])
    apart = centre[1] - card_arc.centre[1]
    assert apart == pytest.approx(INCH / 8)
    deepest = apart + mat_arc.radius_mm - card_arc.radius_mm
    assert deepest / INCH == pytest.approx(0.25)
    side = math.hypot(mat_arc.radius_mm, apart) - card_arc.radius_mm
    assert side / INCH == pytest.approx(0.1374, abs=1e-4)


def test_a_mat_that_follows_has_an_even_ring() -> None:
    pattern = made(
        FRONT + "```piece pocket, in card\npanel front, 5 x 3 in\n"
        "notch half round, 1 in wide, at middle of top of front\n```\n\n"
        "```piece pocket mat, in patterned paper\nmat on front of pocket, 1/8 in border\n```\n"
    )
    (arc,) = [s for s in pattern.piece("pocket mat").outline.outer.segments if isinstance(s, Arc)]
    assert arc.radius_mm == pytest.approx(5 / 8 * INCH)


def test_a_strip_of_7_with_folds_at_2_and_5_12_overlaps_by_0_76() -> None:
    trial = piece("panels across, 1 in high, mountain: one = 2 in, two = 3.12 in, three = 1.88 in")
    assert trial.bounds[2] == pytest.approx(7 * INCH)
    assert [s.path.start[0] / INCH for s in trial.scores] == pytest.approx([2.0, 5.12])
    one, two, three = (p.width_mm / INCH for p in trial.panels)
    assert one + three - two == pytest.approx(0.76)


@pytest.mark.parametrize("border", [2.0, 5.0, 9.0])
def test_mat_behind_a_plain_panel_has_the_area_of_a_mitred_offset(border: float) -> None:
    """A + P d + 4 d^2 for a rectangle (mitred offset: Steiner's formula with tan(pi / 4))."""
    pattern = made(
        FRONT + "```piece label, in card\noutline rectangle, 60 x 40 mm\n```\n\n"
        f"```piece label mat, in patterned paper\nmat behind label, {border} mm border\n```\n"
    )
    wanted = 60 * 40 + 200 * border + 4 * border**2
    assert area(pattern.piece("label mat").outline) == pytest.approx(wanted)
