"""What a maker is told of the work on a sheet."""

from __future__ import annotations

import math

import pytest

from publisher.cutfiles import (
    CutOptions,
    Work,
    copies_words,
    score_words,
    sheet_lines,
    sheet_work,
    work_words,
)
from publisher.geometry.path import polygon
from tests.handmade import envelope_pattern
from tests.layout.test_lay_out import plain, with_pieces
from tests.sheets import laid, trade


def test_work_by_hand() -> None:
    """A rectangle of 100 x 50 from the corner of a 5 mm margin: 300 mm in one cut."""
    pattern, (sheet,) = laid(with_pieces(plain("card", 100.0, 50.0)))
    knife = trade().machines["drag knife"]
    work = sheet_work(sheet_lines(pattern, sheet, CutOptions(machine="drag knife"), trade()))
    assert polygon([(0.0, 0.0), (100.0, 0.0), (100.0, 50.0), (0.0, 50.0)]).length_mm == 300.0
    assert work.cut_mm == pytest.approx(300.0)
    assert (work.score_mm, work.lifts) == (0.0, 1)
    margin = sheet.size.margin_mm
    assert work.travel_mm == pytest.approx(math.hypot(margin, margin))
    by_hand = 300.0 / knife.cut_mm_s + work.travel_mm / knife.travel_mm_s + knife.lift_s
    assert work.time_s == pytest.approx(by_hand)


def test_scores_count_as_cut_where_they_are_dashes() -> None:
    pattern, (sheet,) = laid(envelope_pattern())
    whole = sheet_work(sheet_lines(pattern, sheet, None, trade()))
    dashes = sheet_work(sheet_lines(pattern, sheet, CutOptions(score_as="dashes"), trade()))
    scored = sum(score.path.length_mm for score in pattern.pieces[0].scores)
    assert whole.score_mm == pytest.approx(scored, abs=0.01)
    assert dashes.score_mm == 0.0
    assert 0.3 * scored < dashes.cut_mm - whole.cut_mm < scored
    assert whole.time_s is None


@pytest.mark.parametrize(
    ("work", "first", "words"),
    [
        (Work(2412.0, 880.0, 0.0, 1, None), "mm", "2.4 m (8 ft) to cut and 88 cm (3 ft) to score."),
        (Work(300.0, 0.0, 0.0, 1, None), "in", "12 in (30 cm) to cut."),
        (Work(2.0, 0.0, 0.0, 1, None), "mm", "1 cm (1 in) to cut."),
    ],
)
def test_lengths_as_makers_say_them(work: Work, first: str, words: str) -> None:
    assert work_words(work, None, "in" if first == "in" else "mm") == f"About {words}"


def test_time_with_a_machine() -> None:
    knife = trade().machines["drag knife"]
    said = work_words(Work(300.0, 0.0, 0.0, 1, 61.0), knife, "mm")
    assert said.endswith(": about 2 minutes with a dragged blade on a mat, 12 x 12 in.")
    assert "less than a minute" in work_words(Work(300.0, 0.0, 0.0, 1, 59.0), knife, "mm")


def test_nothing_is_said_of_the_usual() -> None:
    assert score_words("groups") == copies_words(1) == ""
    assert "3 times" in copies_words(3)
    assert score_words("dashes") != score_words("drawn") != ""
