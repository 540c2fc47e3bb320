"""Lengths found in prose, in figures and in words."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from publisher.units import figures_in


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("Leave 4 mm of card all round.", [("4 mm", 4.0)]),
        ("12mm deep", [("12mm", 12.0)]),
        ("a 12-mm border", [("12-mm", 12.0)]),
        ("2.5 cm.", [("2.5 cm", 25.0)]),
        ("2,5 cm", [("2,5 cm", 25.0)]),
        ("1,200 mm", [("1,200 mm", 1200.0)]),
        ("5 1/4 in wide", [("5 1/4 in", 133.35)]),
        ("5¼ in", [("5¼ in", 133.35)]),
        ("5-1/4 in", [("5-1/4 in", 133.35)]),
        ("1⁄4 in", [("1⁄4 in", 6.35)]),
        ("a quarter of an inch", [("a quarter of an inch", 6.35)]),
        ("a quarter inch", [("a quarter inch", 6.35)]),
        ("quarter-inch strip", [("quarter-inch", 6.35)]),
        ("one and a half inches", [("one and a half inches", 38.1)]),
        ("an inch and a half", [("an inch and a half", 38.1)]),
        ("two and three quarter inches", [("two and three quarter inches", 69.85)]),
        ("three-eighths of an inch", [("three-eighths of an inch", 9.525)]),
        ("half a centimetre", [("half a centimetre", 5.0)]),
        ("two millimetres", [("two millimetres", 2.0)]),
        ("twenty-five millimetres", [("twenty-five millimetres", 25.0)]),
        ("an inch", [("an inch", 25.4)]),
        ('1 3/4" by 4 3/4"', [('1 3/4"', 44.45), ('4 3/4"', 120.65)]),
        ("1 3/4 by 4 3/4 in", [("1 3/4", 44.45), ("4 3/4 in", 120.65)]),
        ("120 x 80 mm", [("120", 120.0), ("80 mm", 80.0)]),
        ("120 × 80 × 20 mm", [("120", 120.0), ("80", 80.0), ("20 mm", 20.0)]),
        ("10 to 12 mm", [("10", 10.0), ("12 mm", 12.0)]),
        ("two or three mm", [("two", 2.0), ("three mm", 3.0)]),
        ("4 mm (5/32 in)", [("4 mm", 4.0), ("5/32 in", 3.96875)]),
        ("It is 4 in. wide", [("4 in.", 101.6)]),
        ("It is 4 in.", [("4 in", 101.6)]),
    ],
)
def test_lengths(text: str, expected: list[tuple[str, float]]) -> None:
    found = figures_in(text)
    assert [(f.written, pytest.approx(f.mm)) for f in found] == expected
    for figure in found:
        assert text[figure.start : figure.end] == figure.written


@pytest.mark.parametrize(
    "text",
    [
        "Fold it in half.",
        "Fold 2 in half.",
        "Put 2 in the box.",
        "Glue 3 in place.",
        "Cut a piece from A5 in card.",
        "Step 4. Fold panel 1 and panel 2.",
        'He said "cut 5" and went on.',
        "Turn it by 90 degrees.",
        "Three in a row.",
        "a quarter of the sheet",
        "",
    ],
)
def test_no_lengths(text: str) -> None:
    assert figures_in(text) == ()


def test_hedges_and_words() -> None:
    (figure,) = figures_in("Leave about a quarter of an inch.")
    assert figure.hedge == "about"
    assert figure.in_words
    (figure,) = figures_in("at least 3 mm")
    assert figure.hedge == "at least"
    assert not figure.in_words
    assert figure.amount == 3
    assert figure.unit == "mm"


@given(st.text(max_size=200))
def test_any_text_is_read_without_complaint(text: str) -> None:
    end = 0
    for figure in figures_in(text):
        assert end <= figure.start < figure.end <= len(text)
        end = figure.end


def test_long_numbers_and_long_texts_are_harmless() -> None:
    assert figures_in("9" * 5000 + " mm") == ()
    assert len(figures_in('5" ' * 20_000)) == 20_000
