"""Cuts from edge to edge, done over again with paper that only such cuts can part."""

from __future__ import annotations

from collections import Counter

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from publisher.trimmer.guillotine import Rect, boards, strokes_of
from publisher.trimmer.table import cutting_table
from tests.handmade import sliding_box_pattern
from tests.sheets import laid, trade
from tests.templates.printed import of, plain


def parted(width: int, height: int, board: tuple[Rect, ...]) -> Counter[tuple[int, int]]:
    """Sizes of all parts after the cuts, each made through the whole of one part there is."""
    strokes, _ = strokes_of(board, width, height)
    parts = [(0, 0, width, height)]
    for stroke in strokes:
        part = (stroke.part.x, stroke.part.y, stroke.part.width, stroke.part.height)
        parts.remove(part)
        x, y, wide, high = part
        if stroke.upright:
            assert 0 < stroke.at < wide
            parts += [(x, y, stroke.at, high), (x + stroke.at, y, wide - stroke.at, high)]
        else:
            assert 0 < stroke.at < high
            parts += [(x, y, wide, stroke.at), (x, y + stroke.at, wide, high - stroke.at)]
    for rect in board:
        assert (rect.x, rect.y, rect.width, rect.height) in parts
    return Counter((wide, high) for _, _, wide, high in parts)


SIZES = st.tuples(st.integers(8, 120), st.integers(8, 120))


@settings(deadline=None)
@given(st.lists(SIZES, min_size=1, max_size=14), st.booleans())
def test_cuts_part_every_board_into_its_blanks(blanks: list[tuple[int, int]], turn: bool) -> None:
    found = boards(blanks, 210, 297, may_turn=turn)
    assert sorted(rect.number for board in found for rect in board) == list(range(len(blanks)))
    for board in found:
        parts = parted(210, 297, board)
        assert sum(w * h * n for (w, h), n in parts.items()) == 210 * 297
        for rect in board:
            asked = blanks[rect.number]
            assert (rect.width, rect.height) in (asked, asked[::-1] if turn else asked)


def test_what_no_trimmer_can_part_is_refused() -> None:
    """Five rectangles round a middle one: the pinwheel, which no cut goes through."""
    wheel = (
        Rect(0, 0, 0, 2, 1),
        Rect(1, 2, 0, 1, 2),
        Rect(2, 1, 2, 2, 1),
        Rect(3, 0, 1, 1, 2),
        Rect(4, 1, 1, 1, 1),
    )
    with pytest.raises(ValueError, match="edge to edge"):
        strokes_of(wheel, 3, 3)


def test_the_largest_rest_comes_off_whole() -> None:
    """One slip of 60 x 40 on A4: first all that lies below it, then what lies beside it."""
    strokes, left = strokes_of((Rect(0, 0, 0, 60, 40),), 210, 297)
    assert [(s.upright, s.at) for s in strokes] == [(False, 40), (True, 60)]
    assert sorted((r.width, r.height) for r in left) == [(150, 40), (210, 257)]


def test_grain_is_kept_unless_turning_saves_a_sheet() -> None:
    """Three strips of 120 x 70: on A4 (210 x 297) they lie one below the other, upright."""
    pattern, sheets = laid(of(plain("strip", 120.0, 70.0, copies=3)))
    (plan, _) = cutting_table(pattern, sheets, trade()).plans
    (sheet,) = plan.sheets
    assert {(b.width_mm, b.height_mm) for b in sheet.blanks} == {(120.0, 70.0)}


def test_sheets_cut_alike_are_said_once() -> None:
    pattern, sheets = laid(of(plain("page", 200.0, 140.0, copies=7)))
    plans = cutting_table(pattern, sheets, trade()).plans
    assert [sheet.count for sheet in plans[0].sheets] == [3, 1]
    assert [len(sheet.blanks) for sheet in plans[0].sheets] == [2, 1]


def test_every_cut_is_a_mark_in_either_unit() -> None:
    pattern, sheets = laid(sliding_box_pattern())
    for plan in cutting_table(pattern, sheets, trade()).plans:
        step = 0.5 if plan.unit == "mm" else 25.4 / 16
        for sheet in plan.sheets:
            for cut in sheet.cuts:
                assert cut.at_mm / step == pytest.approx(round(cut.at_mm / step), abs=1e-9)
