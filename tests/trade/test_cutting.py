"""Choices about cutting: what they take, and which counts."""

from __future__ import annotations

import pytest

from publisher.cutfiles import FORMATS, UNITS_PER_INCH, WRITERS
from publisher.trade import CUT_FORMATS, CUTTING_KEYS, Cutting, chosen, read_cutting

KEYS = {key.name: key for key in CUTTING_KEYS}


def test_every_format_can_be_chosen() -> None:
    assert set(CUT_FORMATS) == set(WRITERS) == set(UNITS_PER_INCH)
    assert set(FORMATS) <= set(CUT_FORMATS)


@pytest.mark.parametrize(
    ("said", "mm"), [("2 mm", 2.0), ("0 mm", 0.0), ("1/8 in", 3.175), ("1 cm", 10.0)]
)
def test_lengths_in_any_unit(said: str, mm: float) -> None:
    assert KEYS["gap"].fits(said)
    assert read_cutting({"gap": said, "margin": said}) == Cutting(gap_mm=mm, margin_mm=mm)


@pytest.mark.parametrize("said", ["2", "", "about 2 mm", "-2 mm", "2 mm all round", "3 ft"])
def test_no_length(said: str) -> None:
    assert not KEYS["gap"].fits(said)


@pytest.mark.parametrize(
    ("said", "fits"), [("1", True), ("100", True), ("0", False), ("101", False), ("two", False)]
)
def test_copies(said: str, fits: bool) -> None:
    assert KEYS["copies"].fits(said) is fits


def test_formats_in_their_own_order_each_once() -> None:
    assert KEYS["formats"].fits("png, svg-72,png")
    assert read_cutting({"formats": "png, svg-72,png"}).formats == ("svg-72", "png")
    assert not KEYS["formats"].fits("svg-72; png")
    assert not KEYS["formats"].fits("")


def test_what_is_said_later_counts() -> None:
    usual = Cutting(sheet="a4", gap_mm=2.0, formats=("png",), machine="drag knife")
    own = Cutting(sheet="letter", gap_mm=0.0)
    assert chosen(usual, own) == Cutting(
        sheet="letter", gap_mm=0.0, formats=("png",), machine="drag knife"
    )
    assert chosen() == Cutting()
