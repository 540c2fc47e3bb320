"""Sheets, rests, glue and cost against figures worked out by hand."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

from publisher.geometry.measure import Bounds
from publisher.geometry.path import Region, polygon
from publisher.layout import Placed, Sheet
from publisher.supplies import batch, batches, cost, offcuts, read_prices, substitutes, supplies
from publisher.supplies.adhesive import glue_line_mm, zone_length_mm
from publisher.supplies.offcuts import largest_rest
from publisher.supplies.prices import minutes
from publisher.supplies.told import all_data, cost_lines, lines_of, offcut_words
from publisher.trade import Cutting
from tests.handmade import CARD, envelope_pattern, sliding_box_pattern
from tests.sheets import laid, trade
from tests.templates.printed import of, plain

PRICES = """
[money]
currency = "beans"
source = "invented"

[card]
price = 0.5
per = "sheet"
source = "invented"

[glue]
price = 0.2
per = "100 cm2"
source = "invented"

[work]
price = 12
per = "hour"
source = "invented"
"""


def on_a4(*placed: Placed) -> Sheet:
    return Sheet("card-1", CARD, trade().sheets["a4"], placed)


def test_the_share_of_a_sheet() -> None:
    """Two slips of 100 x 100 on A4: 20,000 of 62,370 mm2."""
    pattern = of(plain("slip", 100.0, 100.0, copies=2))
    sheet = on_a4(Placed("slip", 1, 5.0, 5.0, 0.0), Placed("slip", 2, 5.0, 110.0, 0.0))
    (use,) = supplies(pattern, [sheet]).sheets
    assert (use.count, use.share) == (1, pytest.approx(20000 / 62370))


def test_batches_take_what_they_take() -> None:
    """Pieces of 190 x 130, two to an A4 sheet: ten take five sheets, eleven take six."""
    pattern = of(plain("page", 190.0, 130.0))
    counts = [b.sheets[0].count for b in batches(pattern, trade(), Cutting(), (1, 10, 11))]
    assert counts == [1, 5, 6]


def test_a_batch_lies_on_the_sheet_that_was_chosen() -> None:
    """140 x 100 with 2 between: two across and four down on A3, of which 287 x 410 is free."""
    pattern = of(plain("page", 140.0, 100.0))
    (use,) = batch(pattern, trade(), Cutting(sheet="a3"), 10).sheets
    assert (use.size.name, use.count) == ("a3", 2)


def test_glue_grows_with_the_batch() -> None:
    one = batch(envelope_pattern(), trade(), Cutting(), 1)
    ten = batch(envelope_pattern(), trade(), Cutting(), 10)
    assert ten.glue_mm2 == pytest.approx(10 * one.glue_mm2)
    assert ten.line_mm == pytest.approx(10 * one.line_mm)


def test_the_length_of_glue_lines() -> None:
    """The envelope's strips are 10 wide and run along the sides of the lower flap, 67 deep."""
    assert glue_line_mm(envelope_pattern()) == pytest.approx(2 * 67.0, abs=0.6)


@given(st.floats(0.0, 360.0), st.floats(12.0, 90.0), st.floats(2.0, 11.0))
def test_a_strip_is_as_long_as_it_is_in_any_direction(
    turn: float, long: float, wide: float
) -> None:
    c, s = math.cos(math.radians(turn)), math.sin(math.radians(turn))
    corners = [(0.0, 0.0), (long, 0.0), (long, wide), (0.0, wide)]
    turned = [(x * c - y * s, x * s + y * c) for x, y in corners]
    assert zone_length_mm(Region(polygon(turned))) == pytest.approx(long, abs=1e-3)


def test_what_is_left_and_what_it_is_good_for() -> None:
    """A slip of 100 x 90 in the corner of A4: below it 210 x 207 are left, beside it 110 x 90,
    which is room for another, turned or not."""
    pattern = of(plain("slip", 100.0, 90.0))
    first, second = offcuts(pattern, [on_a4(Placed("slip", 1, 0.0, 0.0, 0.0))], trade())
    assert (first.width_mm, first.height_mm) == (210.0, 207.0)
    assert first.pieces == ("slip",)
    # The largest flat thing of shared/objects.toml that goes into 210 x 207.
    assert first.thing == "Card, A5"
    assert (second.width_mm, second.height_mm) == (110.0, 90.0)
    assert second.pieces == ("slip",)
    assert offcut_words(second, "mm").startswith("110 × 90 mm (4 5/16 × 3 9/16 in) of card-1")


PLACES = st.tuples(st.integers(0, 15), st.integers(0, 15), st.integers(1, 9), st.integers(1, 9))
BOXES = PLACES.map(
    lambda b: (float(b[0]), float(b[1]), min(16.0, b[0] + b[2]), min(16.0, b[1] + b[3]))
)


@given(st.lists(BOXES, max_size=7))
def test_no_larger_rest_is_there(taken: list[Bounds]) -> None:
    """Against every rectangle of a small grid."""
    whole = (0.0, 0.0, 16.0, 16.0)
    found = largest_rest(whole, taken)
    free = [
        [all(not (b[0] <= x < b[2] and b[1] <= y < b[3]) for b in taken) for x in range(16)]
        for y in range(16)
    ]
    best = 0
    heights = [0] * 16
    for y in range(16):
        heights = [h + 1 if free[y][x] else 0 for x, h in enumerate(heights)]
        for left in range(16):
            low = heights[left]
            for right in range(left, 16):
                low = min(low, heights[right])
                best = max(best, low * (right - left + 1))
    size = (found[2] - found[0]) * (found[3] - found[1])
    assert size == best
    for b in taken:
        assert not (found[0] < b[2] and b[0] < found[2] and found[1] < b[3] and b[1] < found[3])


def test_papers_that_do_in_place_of_card() -> None:
    """0.4 mm and 15 in a hundred: 0.34 to 0.46. Of shared/stocks.toml these are 0.38, 0.35."""
    stock = trade().stocks["card"]
    assert [s.name for s in substitutes(stock, trade())] == ["cover 110", "cover 100"]
    assert substitutes(trade().stocks["patterned paper"], trade()) == ()


def test_cost_by_the_list() -> None:
    """The sliding box: two sheets of card at 0.5; the patterned sheet has no price; 40 min of
    work at 12 an hour; glue by its area."""
    prices, wrong = read_prices(PRICES)
    assert wrong == ()
    pattern = sliding_box_pattern()
    _, sheets = laid(pattern)
    needed = supplies(pattern, sheets)
    found = cost(pattern, needed, prices)
    amounts = {line.what: line.amount for line in found.lines}
    cards = sum(sheet.stock.name == "card" for sheet in sheets)
    assert amounts["Card, A4"] == pytest.approx(0.5 * cards)
    assert amounts["Glue"] == pytest.approx(0.2 * needed.glue_mm2 / 1e4)
    assert amounts["Work"] == pytest.approx(12 * minutes(pattern) / 60)
    assert [text.split(",")[0] for text in found.unpriced] == ["Patterned paper"]
    assert list(cost_lines(found))[-2] == f"In all: {found.total:.2f} beans"


@pytest.mark.parametrize(
    ("time", "expected"),
    [("40 min", 40), ("1 h 30 min", 90), ("2 hours", 120), ("1.5 h", 90), ("an evening", 0)],
)
def test_time_as_it_is_said(time: str, expected: float) -> None:
    pattern = sliding_box_pattern()
    assert minutes(replace(pattern, meta=replace(pattern.meta, time=time))) == expected


def test_a_wrong_list_is_a_finding() -> None:
    _, wrong = read_prices('[card]\nprice = -1\nper = "sheet"\nsource = "x"\n')
    assert [d.code for d in wrong] == ["shared-value-wrong"]
    _, wrong = read_prices('[card]\nprice = 1\nper = "acre"\nsource = "x"\n')
    assert "sheet, 100 cm2, m, hour" in wrong[0].message
    assert read_prices("")[0].prices == {}


def test_no_price_no_sum() -> None:
    pattern, sheets = laid(sliding_box_pattern())
    found = cost(pattern, supplies(pattern, sheets), read_prices("")[0])
    assert found.lines == ()
    assert len(found.unpriced) == 4
    assert [line[:15] for line in cost_lines(found)] == ["Without a price"]


def test_in_a_makers_words() -> None:
    pattern = of(plain("page", 190.0, 130.0))
    assert list(lines_of(pattern, batch(pattern, trade(), Cutting(), 4))) == [
        "Card, A4: 2 sheets, 79 % of them used"
    ]


def test_the_manifest_has_one_and_ten() -> None:
    pattern, sheets = laid(sliding_box_pattern())
    data = all_data(pattern, sheets, trade(), Cutting())
    assert [b["times"] for b in data["batches"]] == [1, 10]
    assert data["batches"][0]["sheets"][0]["count"] == sum(s.stock.name == "card" for s in sheets)
    assert data["substitutes"]["card"] == ["cover 110", "cover 100"]
    assert all(set(rest) >= {"sheet", "width_mm", "height_mm"} for rest in data["offcuts"])
