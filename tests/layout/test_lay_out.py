"""Pieces on sheets: all of them, apart, inside, the same every time."""

from __future__ import annotations

from itertools import combinations
from pathlib import Path as FilePath

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from publisher.geometry.path import Region, polygon
from publisher.layout import Sheet, lay_out, on_sheet, placed_bounds
from publisher.layout.laying import GAP_MM
from publisher.model.types import Pattern, Piece
from publisher.trade import FILES, Stock, Trade, read_trade
from tests.handmade import CARD, PATTERNED, envelope_pattern, sliding_box_pattern

SHARED = FilePath(__file__).parents[2] / "shared"
TRADE, _ = read_trade({name: (SHARED / name).read_text(encoding="utf-8") for name in FILES})
BARE = replace(CARD, name="bare card", grain="none")


def plain(name: str, width: float, height: float, stock: Stock = CARD, copies: int = 1) -> Piece:
    ring = polygon([(0.0, 0.0), (width, 0.0), (width, height), (0.0, height)])
    model = sliding_box_pattern().pieces[2]
    return replace(
        model,
        name=name,
        stock=stock,
        copies=copies,
        outline=Region(ring),
        openings=(),
        derived=None,
    )


def with_pieces(*pieces: Piece) -> Pattern:
    return replace(sliding_box_pattern(), pieces=pieces)


def assert_valid(pattern: Pattern, sheets: tuple[Sheet, ...]) -> None:
    """Every copy once, inside the margins, at least the gap from every other."""
    wanted = sorted((p.name, n + 1) for p in pattern.pieces for n in range(p.copies))
    assert sorted((q.piece, q.copy) for s in sheets for q in s.placed) == wanted
    for sheet in sheets:
        boxes = []
        for placed in sheet.placed:
            piece = pattern.piece(placed.piece)
            assert piece.stock == sheet.stock
            box = placed_bounds(piece, placed)
            assert box[:2] == pytest.approx((placed.x_mm, placed.y_mm), abs=1e-9)
            margin = sheet.size.margin_mm - 2e-3
            assert min(box[:2]) >= margin
            assert box[2] <= sheet.size.width_mm - margin
            assert box[3] <= sheet.size.height_mm - margin
            boxes.append(box)
        for a, b in combinations(boxes, 2):
            apart = max(b[0] - a[2], a[0] - b[2], b[1] - a[3], a[1] - b[3])
            assert apart >= GAP_MM - 2e-3


@pytest.mark.parametrize("pattern", [sliding_box_pattern(), envelope_pattern()])
def test_our_patterns_lie_on_their_sheets(pattern: Pattern) -> None:
    sheets, found = lay_out(pattern, TRADE)
    assert found == []
    assert_valid(pattern, sheets)


def test_stocks_do_not_share_a_sheet_and_names_say_which() -> None:
    sheets, _ = lay_out(sliding_box_pattern(), TRADE)
    names = [s.name for s in sheets]
    assert names == ["card-1", "card-2", "patterned-paper-1"]
    assert sheets[0].placed[0].id == "drawer-1"
    assert sheets[2].placed[0].id == "sleeve-mat-1"


def test_a_named_sheet_takes_all_stocks() -> None:
    sheets, found = lay_out(sliding_box_pattern(), TRADE, "12 x 24 in")
    assert found == []
    assert [(s.name, s.size.name) for s in sheets] == [
        ("card-1", "12 x 24 in"),
        ("patterned-paper-1", "12 x 24 in"),
    ]


def test_an_unknown_sheet_is_a_finding_with_the_nearest() -> None:
    sheets, found = lay_out(sliding_box_pattern(), TRADE, "leter")
    assert sheets == ()
    assert [d.code for d in found] == ["sheet-unknown"]
    assert "letter" in found[0].ways_out[0].text


def test_copies_fill_sheets() -> None:
    # 90 x 140 with a gap of 2 in 200 x 287: two by two on a sheet.
    pattern = with_pieces(plain("label", 90, 140, copies=9))
    sheets, found = lay_out(pattern, TRADE)
    assert found == []
    assert [len(s.placed) for s in sheets] == [4, 4, 1]
    assert_valid(pattern, sheets)


def test_the_whole_usable_sheet_can_be_used() -> None:
    for stock in (CARD, BARE, PATTERNED):
        sheets, found = lay_out(with_pieces(plain("all", 200, 287, stock)), TRADE, "a4")
        assert found == []
        assert (sheets[0].placed[0].x_mm, sheets[0].placed[0].y_mm) == (5, 5)


def test_what_is_a_hair_too_wide_fits_no_way() -> None:
    _, found = lay_out(with_pieces(plain("all", 200.01, 287.01)), TRADE, "a4")
    assert [d.code for d in found] == ["piece-larger-than-sheet"]


def test_a_piece_larger_than_its_sheet_says_which_would_do() -> None:
    pattern = with_pieces(plain("long", 40, 300), plain("short", 40, 30))
    sheets, found = lay_out(pattern, TRADE)
    (finding,) = found
    assert finding.code == "piece-larger-than-sheet"
    assert finding.severity == "error"
    assert dict(finding.numbers) == {
        "width_mm": 40,
        "height_mm": 300,
        "free_width_mm": 200,
        "free_height_mm": 287,
    }
    # Legal leaves 342.9, and of the sheets that leave 300 it has the least area.
    assert finding.ways_out[0].text.startswith("a sheet of Legal, 215.9 × 355.6 mm (8 1/2 × 14 in)")
    assert [q.piece for s in sheets for q in s.placed] == ["short"]


def test_larger_than_any_sheet_has_no_way_out() -> None:
    _, found = lay_out(with_pieces(plain("huge", 900, 900)), TRADE)
    assert found[0].ways_out == ()


def test_lying_across_where_it_must() -> None:
    pattern = with_pieces(plain("wide", 280, 100))
    sheets, found = lay_out(pattern, TRADE)
    assert found == []
    assert sheets[0].placed[0].turn_deg == 90
    assert placed_bounds(pattern.pieces[0], sheets[0].placed[0]) == pytest.approx((5, 5, 105, 285))


def test_patterned_paper_is_never_turned() -> None:
    _, found = lay_out(with_pieces(plain("wide", 280, 100, PATTERNED)), TRADE, "a4")
    assert [d.code for d in found] == ["piece-larger-than-sheet"]
    assert "is not turned" in found[0].notes[0]


def test_grain_is_kept_unless_turning_saves_a_sheet() -> None:
    # Side by side on one sheet either way: kept upright.
    sheets, _ = lay_out(with_pieces(plain("strip", 90, 20, copies=6)), TRADE)
    assert {q.turn_deg for q in sheets[0].placed} == {0.0}
    # 150 x 95: three upright take 287 exactly less gaps (289): two sheets; one turned saves it.
    pattern = with_pieces(plain("a", 150, 190), plain("b", 190, 95))
    sheets, _ = lay_out(pattern, TRADE)
    assert len(sheets) == 1
    pattern = with_pieces(plain("tall", 60, 280, copies=2), plain("wide", 190, 60))
    sheets, _ = lay_out(pattern, TRADE)
    assert len(sheets) == 1
    assert {(q.piece, q.turn_deg) for q in sheets[0].placed} == {("tall", 0.0), ("wide", 90.0)}
    assert_valid(pattern, sheets)


def test_on_sheet_turns_about_the_piece() -> None:
    piece = plain("wide", 280, 100)
    sheets, _ = lay_out(with_pieces(piece), TRADE)
    corner = on_sheet(polygon([(0, 0), (1, 0), (1, 1)]), piece, sheets[0].placed[0])
    # The piece's top left goes to the top right when turned clockwise.
    assert corner.start == pytest.approx((105, 5))


SIDES = st.integers(50, 1900).map(lambda n: n / 10)


@settings(max_examples=60, deadline=None)
@given(
    st.lists(
        st.tuples(SIDES, SIDES, st.sampled_from([CARD, BARE, PATTERNED]), st.integers(1, 4)),
        min_size=1,
        max_size=9,
    )
)
def test_any_pieces(kinds: list[tuple[float, float, Stock, int]]) -> None:
    pattern = with_pieces(*(plain(f"piece {i}", *kind) for i, kind in enumerate(kinds)))
    sheets, found = lay_out(pattern, TRADE, "a4")
    assert found == []
    assert_valid(pattern, sheets)
    assert lay_out(pattern, TRADE, "a4") == (sheets, [])
    for sheet in sheets:
        if sheet.stock.patterned:
            assert all(q.turn_deg == 0 for q in sheet.placed)


def test_trade_is_the_projects_own() -> None:
    assert isinstance(TRADE, Trade)
    assert TRADE.sheets["a4"].width_mm == 210
