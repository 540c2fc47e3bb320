"""The one formatter."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from publisher.units import (
    MM_PER_INCH,
    angle,
    as_printed_mm,
    both,
    both_sizes,
    figures_in,
    number,
    one,
    one_sizes,
    time_words,
)


@pytest.mark.parametrize(
    ("mm", "kind", "first", "text"),
    [
        (12.0, "ruled", "mm", "12 mm (1/2 in)"),
        (12.0, "ruled", "in", "1/2 in (12 mm)"),
        (133.35, "ruled", "in", "5 1/4 in (133.5 mm)"),
        (25.4, "ruled", "in", "1 in (25.5 mm)"),
        (22.24, "ruled", "mm", "22 mm (7/8 in)"),
        (22.25, "ruled", "mm", "22.5 mm (7/8 in)"),
        (0.4, "thin", "mm", "0.4 mm (0.016 in)"),
        (0.42, "thin", "mm", "0.4 mm (0.017 in)"),
        (1.2, "thin", "mm", "1.2 mm (0.047 in)"),
        (12.7, "thin", "in", "0.5 in (12.7 mm)"),
        (85.6, "standard", "mm", "85.6 mm (3.37 in)"),
        (53.98, "standard", "mm", "53.98 mm (2 1/8 in)"),
        (215.9, "standard", "in", "8 1/2 in (215.9 mm)"),
        (0.0, "ruled", "mm", "0 mm (0 in)"),
        (-3.175, "ruled", "in", "-1/8 in (-3 mm)"),
    ],
)
def test_both_units(mm: float, kind: str, first: str, text: str) -> None:
    assert both(mm, kind=kind, first=first) == text  # type: ignore[arg-type]


def test_a_ruled_length_that_the_ruler_cannot_show_is_written_thin() -> None:
    assert one(0.2, kind="ruled", unit="mm") == "0.2 mm"
    assert one(0.5, kind="ruled", unit="in") == "0.02 in"
    assert as_printed_mm(0.5, kind="ruled", unit="in") == pytest.approx(0.02 * MM_PER_INCH)


def test_sizes_share_their_unit() -> None:
    assert both_sizes((120, 80, 20)) == "120 × 80 × 20 mm (4 3/4 × 3 1/8 × 13/16 in)"


def test_angles_and_plain_numbers() -> None:
    assert angle(90) == "90°"
    assert angle(72.54) == "72.5°"
    assert number(1 / 3) == "0.333"
    assert number(-0.0001) == "0"
    assert number(1200) == "1200"


lengths = st.floats(min_value=0.05, max_value=2000)


@given(lengths, st.sampled_from(["ruled", "thin", "standard"]), st.sampled_from(["mm", "in"]))
def test_what_is_printed_reads_back_as_what_a_maker_measures(
    mm: float, kind: str, unit: str
) -> None:
    printed = one(mm, kind=kind, unit=unit)  # type: ignore[arg-type]
    (figure,) = figures_in(printed)
    measured = as_printed_mm(mm, kind=kind, unit=unit)  # type: ignore[arg-type]
    assert figure.mm == pytest.approx(measured, abs=1e-6)
    assert figure.unit == unit


@given(lengths)
def test_rounding_stays_within_half_a_step(mm: float) -> None:
    if mm >= 1:
        assert abs(as_printed_mm(mm, unit="mm") - mm) <= 0.25 + 1e-6
        assert abs(as_printed_mm(mm, unit="in") - mm) <= MM_PER_INCH / 32 + 1e-6
    assert abs(as_printed_mm(mm, kind="thin", unit="mm") - mm) <= 0.025 + 1e-6
    assert abs(as_printed_mm(mm, kind="thin", unit="in") - mm) <= 0.0127 + 1e-6


@given(st.integers(min_value=1, max_value=400))
def test_ruler_fractions_are_in_lowest_terms(sixteenths: int) -> None:
    text = one(sixteenths * MM_PER_INCH / 16, unit="in").removesuffix(" in")
    total = 0.0
    for part in text.split():
        above, _, below = part.partition("/")
        if below:
            assert math.gcd(int(above), int(below)) == 1
            assert int(above) < int(below)
        total += int(above) / int(below or 1)
    assert total * 16 == sixteenths


def test_the_depth_of_a_card_is_not_rounded_to_a_ruler() -> None:
    """ISO/IEC 7810, ID-1: 85.60 x 53.98 x 0.76 mm."""
    assert one_sizes((85.6, 53.98, 0.76)) == "85.5 × 54 × 0.75 mm"
    assert one_sizes((120, 80, 20)) == "120 × 80 × 20 mm"


def test_times_in_the_unit_that_reads_best() -> None:
    said = {30: "30 seconds", 60: "1 minute", 90: "90 seconds", 600: "10 minutes"}
    said |= {150: "2.5 minutes", 3600: "1 hour", 5400: "90 minutes", 9000: "2.5 hours"}
    assert {seconds: time_words(seconds) for seconds in said} == said
