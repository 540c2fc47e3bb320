"""The shared data against published tables and first principles."""

import math
from pathlib import Path

import pytest

from publisher.trade import FILES, Trade, read_trade

SHARED = Path(__file__).parents[2] / "shared"


@pytest.fixture(scope="module")
def trade() -> Trade:
    return read_trade({n: (SHARED / n).read_text(encoding="utf-8") for n in FILES})[0]


# ISO 216:2007, trimmed sizes of the A series, mm (width, height).
ISO_216_A = {
    0: (841, 1189),
    1: (594, 841),
    2: (420, 594),
    3: (297, 420),
    4: (210, 297),
    5: (148, 210),
    6: (105, 148),
    7: (74, 105),
    8: (52, 74),
    9: (37, 52),
    10: (26, 37),
}


def test_a_series_halves() -> None:
    """ISO 216: each size is the one before cut in half across, rounded down to the mm."""
    width, height = 841, 1189
    for number, listed in ISO_216_A.items():
        assert (width, height) == listed, number
        width, height = height // 2, width


@pytest.mark.parametrize("number", [2, 3, 4, 5])
def test_sheets_of_the_a_series(trade: Trade, number: int) -> None:
    """ISO 216:2007, A series."""
    sheet = trade.sheets[f"a{number}"]
    assert (sheet.width_mm, sheet.height_mm) == ISO_216_A[number]
    # From the definition: A0 is one square metre and each next one half of it; rounding down
    # to whole mm takes less than 1 mm off either side.
    lost = sheet.width_mm + sheet.height_mm
    assert 1e6 / 2**number - lost < sheet.width_mm * sheet.height_mm <= 1e6 / 2**number


@pytest.mark.parametrize("number", [5, 6, 7])
def test_cards_of_the_a_series(trade: Trade, number: int) -> None:
    """ISO 216:2007, A series."""
    card = trade.objects[f"a{number} card"]
    assert (card.width_mm, card.height_mm) == ISO_216_A[number]


@pytest.mark.parametrize(
    ("name", "inches"),
    [
        ("letter", (8.5, 11)),  # PWG 5101.1 na_letter
        ("legal", (8.5, 14)),  # PWG 5101.1 na_legal
        ("tabloid", (11, 17)),  # PWG 5101.1 na_ledger
        ("12 x 12 in", (12, 12)),  # common practice, no source
        ("12 x 24 in", (12, 24)),  # common practice, no source
    ],
)
def test_sheets_in_inches(trade: Trade, name: str, inches: tuple[float, float]) -> None:
    sheet = trade.sheets[name]
    assert sheet.width_mm == pytest.approx(inches[0] * 25.4, abs=1e-9)
    assert sheet.height_mm == pytest.approx(inches[1] * 25.4, abs=1e-9)


def test_id_1(trade: Trade) -> None:
    """ISO/IEC 7810:2019: 85.60 x 53.98 mm, 0.76 thick, in inches 3.370 x 2.125.

    Both are rounded figures: the inches must not be converted back to mm.
    """
    card = trade.objects["id-1 card"]
    assert (card.width_mm, card.height_mm, card.depth_mm) == (85.60, 53.98, 0.76)
    assert card.width_mm == pytest.approx(3.370 * 25.4, abs=0.003)
    assert card.height_mm == pytest.approx(2.125 * 25.4, abs=0.006)
    assert card.width_mm != 3.370 * 25.4


def test_id_2_is_a7(trade: Trade) -> None:
    """ISO/IEC 7810:2019: ID-2 is 105 x 74 mm, which is A7 of ISO 216 lying down."""
    card = trade.objects["id-2 card"]
    assert (card.height_mm, card.width_mm) == ISO_216_A[7]


@pytest.mark.parametrize(
    ("envelope", "insert", "clearance"),
    [
        # ISO 269:1985 envelope sizes; what is free beside the ISO 216 sheet that goes in
        # (along, across), which follows by subtraction.
        ("c7 envelope", ISO_216_A[7], (9, 7)),
        ("c6 envelope", ISO_216_A[6], (14, 9)),
        ("c5 envelope", ISO_216_A[5], (19, 14)),
        ("c4 envelope", ISO_216_A[4], (27, 19)),
        ("dl envelope", (99, 210), (10, 11)),  # a third of A4
        ("b6 envelope", (114, 162), (14, 11)),  # holds a C6 envelope
        ("b5 envelope", (162, 229), (21, 14)),  # holds a C5 envelope
    ],
)
def test_envelopes_clear_their_sheet(
    trade: Trade, envelope: str, insert: tuple[float, float], clearance: tuple[float, float]
) -> None:
    thing = trade.objects[envelope]
    along = thing.width_mm - max(insert)
    across = thing.height_mm - min(insert)
    assert (along, across) == clearance


@pytest.mark.parametrize("number", [4, 5, 6, 7])
def test_c_sizes_lie_between_a_and_b(trade: Trade, number: int) -> None:
    """C is the geometric mean of A and B of the same number (ISO 216 family; from memory).

    B sizes: ISO 216:2007, B series.
    """
    b_series = {4: (250, 353), 5: (176, 250), 6: (125, 176), 7: (88, 125)}
    envelope = trade.objects[f"c{number} envelope"]
    for mine, a, b in zip(
        (envelope.height_mm, envelope.width_mm), ISO_216_A[number], b_series[number], strict=True
    ):
        assert mine == pytest.approx(math.sqrt(a * b), abs=1.0)


@pytest.mark.parametrize(
    ("name", "inches"),
    [
        ("a2 envelope", (5.75, 4.375)),  # PWG 5101.1 na_a2
        ("envelope 10", (9.5, 4.125)),  # PWG 5101.1 na_number-10
        ("a6 envelope", (6.5, 4.75)),  # common practice, no source
        ("a7 envelope", (7.25, 5.25)),  # common practice, no source
        ("business card", (3.5, 2)),  # PWG 5101.1 na_business-card
        ("poker card", (2.5, 3.5)),  # common practice, no source
        ("bridge card", (2.25, 3.5)),  # common practice, no source
    ],
)
def test_things_in_inches(trade: Trade, name: str, inches: tuple[float, float]) -> None:
    thing = trade.objects[name]
    assert thing.width_mm == pytest.approx(inches[0] * 25.4, abs=1e-9)
    assert thing.height_mm == pytest.approx(inches[1] * 25.4, abs=1e-9)


def grammage(pounds: float, wide_in: float, high_in: float) -> float:
    """g/m2 of a paper whose 500 sheets of the basic size weigh so many pounds.

    The international pound is 0.45359237 kg and the inch 25.4 mm, both exactly.
    """
    return pounds * 453.59237 / (500 * wide_in * high_in * 0.0254**2)


@pytest.mark.parametrize(
    ("pounds", "wide", "high", "printed", "within"),
    [
        # Factors and worked examples as a press maker's paper guide (tables) prints
        # them: within 0.05 % where it gives four places, else within half of its last place.
        (1, 20, 26, 2.7042, 0.00135),  # cover
        (1, 25, 38, 1.4802, 0.00074),  # text
        (1, 17, 22, 3.76, 0.005),  # bond
        (1, 25.5, 30.5, 1.81, 0.005),  # index
        (1, 24, 36, 1.63, 0.005),  # tag
        (1, 22.5, 28.5, 2.19, 0.005),  # bristol
        (90, 25, 38, 133.218, 0.067),  # offset
        (100, 20, 26, 270.42, 0.135),  # cover
    ],
)
def test_basis_weight_as_printed(
    pounds: float, wide: float, high: float, printed: float, within: float
) -> None:
    assert grammage(pounds, wide, high) == pytest.approx(printed, abs=within)


@pytest.mark.parametrize("pounds", [65, 80, 100, 110])
def test_covers_from_first_principles(trade: Trade, pounds: int) -> None:
    """Basic size of cover 20 x 26 in: definition of basis weight."""
    stock = trade.stocks[f"cover {pounds}"]
    assert stock.grammage_gsm == pytest.approx(grammage(pounds, 20, 26), abs=0.005)


def test_bulk_of_every_stock_is_that_of_paper(trade: Trade) -> None:
    """ISO 534: bulk in cm3/g is caliper in um over grammage. Tracing paper is dense and
    loose art papers bulky: 0.8 to 1.8 takes all in (common practice, no source)."""
    for stock in trade.stocks.values():
        bulk = stock.caliper_mm * 1000 / stock.grammage_gsm
        assert 0.8 <= bulk <= 1.8, stock.name


def test_mass_of_a_sheet(trade: Trade) -> None:
    """ISO 536: mass is area times grammage; A4 at 80 g/m2 weighs 4.9896 g."""
    a4, paper = trade.sheets["a4"], trade.stocks["paper"]
    assert a4.width_mm * a4.height_mm / 1e6 * paper.grammage_gsm == pytest.approx(4.9896)
