"""Figures for trimmer and board, against figures worked out by hand."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

from publisher.geometry.path import Line, Path, Point
from publisher.model.types import Pattern, Score
from publisher.pipeline import check_pattern, on_sheets
from publisher.trimmer import CuttingTable, cutting_table
from publisher.trimmer.marks import set_marks
from publisher.trimmer.types import Figures, Row
from publisher.units import as_printed_mm, kind_for
from tests.compiled import ROOT, compile_text, workshop
from tests.handmade import BOX_FILE, at, envelope_pattern, sliding_box_pattern
from tests.sheets import laid, trade
from tests.templates.printed import of, plain

SIXTEENTH = 25.4 / 16


def table(pattern: Pattern) -> CuttingTable:
    made, sheets = laid(pattern)
    return cutting_table(made, sheets, trade())


def figures(row: Row, unit: str) -> Figures:
    return next(f for f in row.figures if f.unit == unit)


def score(name: str, start: Point, end: Point) -> Score:
    return Score(name, Path((Line(start, end),), False), "valley", None, at(BOX_FILE, 9))


def strip(*folds_mm: float, width_mm: float) -> Pattern:
    """A strip of card 50 high with scores across it."""
    scores = tuple(
        Score(
            f"fold {x:g}",
            Path((Line((x, 0.0), (x, 50.0)),), False),
            "valley",
            None,
            at(BOX_FILE, 9),
        )
        for x in folds_mm
    )
    return of(replace(plain("strip", width_mm, 50.0), scores=scores))


def test_the_drawer() -> None:
    """168 x 128, walls of 22: the tabs carry the folds of the short walls over the whole
    height; those of the long walls end where the corners are."""
    (row,) = table(sliding_box_pattern()).rows
    assert row.piece == "drawer"
    assert row.trimmed
    metric = figures(row, "mm")
    assert (metric.width_mm, metric.height_mm) == (168.0, 128.0)
    assert [m.at_mm for m in metric.across] == [22.0, 146.0]
    assert [(m.start_mm, m.end_mm) for m in metric.across] == [(None, None)] * 2
    assert [m.at_mm for m in metric.down] == [22.0, 106.0]
    assert [(m.start_mm, m.end_mm) for m in metric.down] == [(22.0, 146.0)] * 2
    assert metric.deviations == ()


def test_the_drawer_in_inches_says_what_rounding_does() -> None:
    """22 mm is 13.86 sixteenths and goes to 14; the base of 124 mm becomes 78, 0.175 less."""
    (row,) = table(sliding_box_pattern()).rows
    inches = figures(row, "in")
    assert [round(m.at_mm / SIXTEENTH) for m in inches.across] == [14, 92]
    assert [round(m.at_mm / SIXTEENTH) for m in inches.down] == [14, 67]
    assert [round(d.off_mm, 4) for d in inches.deviations] == [
        round(78 * SIXTEENTH - 124, 4),
        round(53 * SIXTEENTH - 84, 4),
    ]


def test_curved_pieces_are_named_and_left_out() -> None:
    assert table(sliding_box_pattern()).others == ("sleeve", "sleeve mat")
    assert table(envelope_pattern()).others == ()


def test_panels_alike_stay_alike() -> None:
    """Four panels of 60 mm: each mark for itself would make one of them 2.9 mm smaller than
    its neighbours (58.7 beside 60.3); by distances all are 38 sixteenths."""
    (row,) = table(strip(60.0, 120.0, 180.0, 240.0, width_mm=252.0)).rows
    inches = figures(row, "in")
    assert [round(m.at_mm / SIXTEENTH) for m in inches.across] == [38, 76, 114, 152]
    assert {round(d.off_mm, 3) for d in inches.deviations} == {0.325}


def test_an_inch_design_keeps_its_marks() -> None:
    """2 1/2, 6 1/4 and 6 3/8 of 8 3/4 in, as said in the trade."""
    places = [2.5 * 25.4, 6.25 * 25.4, 6.375 * 25.4]
    (row,) = table(strip(*places, width_mm=8.75 * 25.4)).rows
    inches = figures(row, "in")
    assert [m.at_mm for m in inches.across] == pytest.approx(places)
    assert inches.width_mm == pytest.approx(8.75 * 25.4)
    assert inches.deviations == ()
    assert not row.trimmed


PANELS = """
```piece tower, in card
panels   across, 50 mm high, mountain: one = {wide} mm, two = {wide} mm, three = {wide} mm,
         four = {wide} mm
```

```step
score    tower
```
"""


@pytest.mark.parametrize(
    ("wide", "inches", "halves"),
    [
        # 14.74 sixteenths: each panel is printed as 15, and the fourth ends at 60 of 58.96.
        (23.4, [15, 30, 45], [47, 94, 141]),
        (23.25, [15, 30, 45], [47, 94, 141]),
        (60.0, [38, 76, 114], [120, 240, 360]),
    ],
)
def test_a_panel_is_as_wide_as_the_booklet_prints_it(
    wide: float, inches: list[int], halves: list[int]
) -> None:
    pattern = compile_text(PANELS.replace("{wide}", f"{wide}")).pattern
    assert pattern is not None
    (row,) = table(pattern).rows
    ruled, metric = figures(row, "in"), figures(row, "mm")
    assert [round(m.at_mm / SIXTEENTH) for m in ruled.across] == inches
    assert [round(m.at_mm * 2) for m in metric.across] == halves
    assert round(ruled.width_mm / SIXTEENTH) == inches[0] * 4
    # What a panel is off is told against the design, in either unit.
    for own in (ruled, metric):
        off = own.across[0].at_mm - wide
        told = [round(d.off_mm, 3) for d in own.deviations]
        assert told == ([round(off, 3)] * 2 if abs(off) >= 0.02 else [])


@pytest.mark.parametrize("name", sorted(p.name for p in (ROOT / "content").iterdir()))
def test_folds_of_our_own_patterns_lie_where_the_booklet_says(name: str) -> None:
    outcome = on_sheets(check_pattern(workshop(), name), workshop().trade)
    assert outcome.pattern is not None
    for row in cutting_table(outcome.pattern, outcome.sheets, workshop().trade).rows:
        panels = outcome.pattern.piece(row.piece).panels
        for own in row.figures:
            for marks, sizes in (
                (own.across, [p.width_mm for p in panels]),
                (own.down, [p.height_mm for p in panels]),
            ):
                for first, second in pairwise(marks):
                    exact = second.exact_mm - first.exact_mm
                    if any(abs(exact - mm) < 1e-6 for mm in sizes):
                        shown = as_printed_mm(exact, kind=kind_for(exact), unit=own.unit)
                        assert second.at_mm - first.at_mm == pytest.approx(shown, abs=1e-6)


def test_slanted_scores_are_counted() -> None:
    slanted = Score(
        "s", Path((Line((0.0, 0.0), (30.0, 40.0)),), False), "valley", None, at(BOX_FILE, 9)
    )
    (row,) = table(of(replace(plain("slip", 60.0, 40.0), scores=(slanted,)))).rows
    assert row.slanted == 1
    assert figures(row, "mm").across == ()


@given(
    st.lists(st.floats(0.3, 90.0), min_size=1, max_size=9),
    st.sampled_from([1.0, SIXTEENTH]),
)
def test_every_figure_is_a_mark_within_one_step(distances: list[float], step: float) -> None:
    places = [sum(distances[: n + 1]) for n in range(len(distances))]
    marks = set_marks(places, step)
    assert len(marks) == len(places)
    for place, mark in zip(places, marks, strict=True):
        assert mark / step == pytest.approx(round(mark / step), abs=1e-9)
        assert abs(mark - place) < step
    # No other choice of marks before or after keeps the distances better.
    if len(places) <= 6:
        from itertools import product
        from math import floor

        def cost(chosen: tuple[float, ...]) -> float:
            ends = zip([0.0, *chosen], chosen, [0.0, *places], places, strict=False)
            return sum((b - a - (q - p)) ** 2 for a, b, p, q in ends)

        options = [
            (floor(p / step + 1e-6) * step, (floor(p / step + 1e-6) + 1) * step) for p in places
        ]
        exact = [abs(o[0] - p) < 1e-5 for o, p in zip(options, places, strict=True)]
        tries = product(*(o[:1] if e else o for o, e in zip(options, exact, strict=True)))
        assert cost(tuple(marks)) <= min(cost(t) for t in tries) + 1e-9
