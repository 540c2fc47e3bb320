"""Sheets as they were chosen."""

from __future__ import annotations

import pytest

from publisher.layout import chosen_misfits, lay_chosen, placed_bounds
from publisher.trade import Cutting
from tests.handmade import CARD, sliding_box_pattern
from tests.layout.test_lay_out import plain, with_pieces
from tests.sheets import trade


def test_nothing_said_is_the_usual_layout() -> None:
    pattern = sliding_box_pattern()
    sheets, found = lay_chosen(pattern, trade(), Cutting())
    assert found == []
    assert {s.size for s in sheets} <= set(trade().sheets.values())


def test_margin_gap_and_copies() -> None:
    pattern = with_pieces(plain("card", 40.0, 30.0))
    cutting = Cutting(sheet="a4", margin_mm=12.0, gap_mm=5.0, copies=3)
    (sheet,), found = lay_chosen(pattern, trade(), cutting)
    assert found == []
    assert sheet.size.margin_mm == 12.0
    boxes = sorted(placed_bounds(pattern.piece(p.piece), p) for p in sheet.placed)
    assert len(boxes) == 3
    assert min(min(b[:2]) for b in boxes) == pytest.approx(12.0)
    apart = {round(b[0] - a[2], 6) for a in boxes for b in boxes if b[1] == a[1] and b[0] > a[0]}
    down = {round(b[1] - a[3], 6) for a in boxes for b in boxes if b[0] == a[0] and b[1] > a[1]}
    assert 5.0 in apart | down
    assert min(x for x in apart | down if x > 0) == 5.0


def test_a_machine_needs_its_margin() -> None:
    pattern = with_pieces(plain("card", 40.0, 30.0))
    roll = trade().machines["roll cutter"].margin_mm
    (sheet,), _ = lay_chosen(pattern, trade(), Cutting(sheet="a4", machine="roll cutter"))
    assert sheet.size.margin_mm == roll == 12.7
    # Asking for less does not help a roller.
    asked = Cutting(sheet="a4", machine="roll cutter", margin_mm=1.0)
    (sheet,), _ = lay_chosen(pattern, trade(), asked)
    assert sheet.size.margin_mm == roll


def test_shared_edges_lie_together() -> None:
    pattern = with_pieces(plain("card", 40.0, 30.0))
    (sheet,), _ = lay_chosen(pattern, trade(), Cutting(edges="shared", copies=2))
    a, b = sorted(placed_bounds(pattern.piece(p.piece), p) for p in sheet.placed)
    assert 0.0 in (b[0] - a[2], b[1] - a[3])


def test_a_margin_can_make_a_piece_too_large() -> None:
    pattern = with_pieces(plain("wide", 196.0, 50.0))
    assert chosen_misfits(pattern, trade(), Cutting(sheet="a4")) == []
    (finding,) = chosen_misfits(pattern, trade(), Cutting(sheet="a4", margin_mm=60.0))
    assert finding.code == "piece-larger-than-sheet"
    # The way out counts with that margin too: A4 would do with its own, 177 is left of it here.
    assert "Legal" in finding.ways_out[0].text


def test_a_sheet_that_the_bed_does_not_take() -> None:
    pattern = with_pieces(plain("card", 40.0, 30.0, CARD))
    asked = Cutting(sheet="12 x 24 in", machine="drag knife")
    (finding,) = chosen_misfits(pattern, trade(), asked)
    assert finding.code == "sheet-larger-than-bed"
    assert "304.8 mm (12 in) across and 304.8 mm (12 in) down" in finding.message
    assert finding.ways_out[0].text == "write sheet: 12 x 12 in"
    for machine in ("roll cutter", "drag knife and scoring tool", "knife and ruler"):
        fits = Cutting(sheet="12 x 24 in", machine=machine)
        assert chosen_misfits(pattern, trade(), fits) == []


def test_no_way_out_where_no_sheet_would_do() -> None:
    pattern = with_pieces(plain("card", 1200.0, 1200.0))
    large = trade().sheets["a2"]
    found = chosen_misfits(pattern, trade(), Cutting(sheet=large.name, machine="drag knife"))
    assert {f.code for f in found} == {"piece-larger-than-sheet", "sheet-larger-than-bed"}
    assert all(f.ways_out == () for f in found)
