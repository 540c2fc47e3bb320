"""Worked figures of the craft: common practice, no source."""

from __future__ import annotations

import pytest

from publisher.checks.interior import overlaps
from tests.compiled import codes, compile_text, numbers

IN = 25.4

WRAP = """
```piece wrap, in card
panels  across, 5 in high, mountain: left flap = 2 in, centre = 3 in, right flap = 2 in
```

```fits
wrap closes to 3 x 5 in
```

## Fold

{prose}

```step
score   wrap
turn    over wrap
fold    left flap and right flap of wrap
```
"""


def test_seven_by_five_blank_scored_at_two_and_five_closes_with_an_inch_of_overlap() -> None:
    outcome = compile_text(WRAP.replace("{prose}", "The flaps overlap by 1 in."), "in")
    assert codes(outcome) == []
    assert outcome.pattern is not None
    piece = outcome.pattern.piece("wrap")
    x0, y0, x1, y1 = piece.bounds
    assert (x1 - x0, y1 - y0) == pytest.approx((7 * IN, 5 * IN))
    (lap,) = overlaps(piece)
    assert lap.mm == pytest.approx(1 * IN)
    closed = numbers(outcome, "closed-size-differs")
    assert (closed["width_mm"], closed["height_mm"]) == pytest.approx((3 * IN, 5 * IN))


def test_a_wrong_overlap_in_the_text_is_a_finding() -> None:
    outcome = compile_text(WRAP.replace("{prose}", "The flaps overlap by 3/4 in."), "in")
    assert codes(outcome) == ["figure-differs"]
    assert numbers(outcome, "figure-differs")["design_mm"] == pytest.approx(IN)


MAT = """
```piece stand, in card
panels  across, 5 in high, mountain: front = 2 in, foot = 1/4 in
{notch}
```

```piece mat, in patterned paper
outline rectangle, 1 3/4 x 4 3/4 in
{cut}
```

## Glue the mat

{prose}

```step
score   stand
glue    mat to front of stand
turn    over stand
fold    foot of stand
```
"""


def mat(prose: str, notch: str = "", cut: str = "") -> str:
    return MAT.replace("{prose}", prose).replace("{notch}", notch).replace("{cut}", cut)


@pytest.mark.parametrize(
    "prose",
    [
        "The mat leaves a border of 1/4 in.",
        "The mat leaves a quarter of an inch of card on all sides.",
        "Keep the border of the mat at a quarter inch.",
    ],
)
def test_a_quarter_inch_border_in_words_is_refuted_though_a_quarter_inch_occurs(prose: str) -> None:
    outcome = compile_text(mat(prose), "in")
    assert codes(outcome) == ["figure-differs"]
    found = numbers(outcome, "figure-differs")
    assert found["written_mm"] == pytest.approx(IN / 4)
    assert found["design_mm"] == pytest.approx(IN / 8)


def test_the_true_border_passes() -> None:
    outcome = compile_text(mat("The mat leaves a border of 1/8 in."), "in")
    assert codes(outcome) == []


def test_a_larger_circle_cut_from_the_mats_own_edge_leaves_an_uneven_ring() -> None:
    outcome = compile_text(
        mat(
            "Glue the mat.",
            "notch   half round, 1 in wide, at middle of top of front",
            "notch   half round, 1 1/4 in wide, at middle of top",
        ),
        "in",
    )
    assert codes(outcome) == ["border-uneven"]
    ring = numbers(outcome, "border-uneven")
    assert ring["ring_least_1_mm"] / IN == pytest.approx(0.137, abs=0.005)
    assert ring["ring_greatest_1_mm"] / IN == pytest.approx(0.25, abs=0.001)


def test_a_band_folded_at_two_and_five_point_one_two_overlaps_by_three_quarters() -> None:
    outcome = compile_text(
        """
```piece band, in card
panels  across, 1 in high, mountain: left end = 2 in, front = 3.12 in, right end = 1.88 in
```

## Fold

```step
score   band
turn    over band
fold    left end and right end of band
```
""",
        "in",
    )
    assert codes(outcome) == []
    assert outcome.pattern is not None
    piece = outcome.pattern.piece("band")
    assert piece.bounds[2] == pytest.approx(7 * IN)
    (lap,) = overlaps(piece)
    assert lap.mm / IN == pytest.approx(0.76)
