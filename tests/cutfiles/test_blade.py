"""Overcut and lead of a machine, and edges cut once."""

from __future__ import annotations

import math

import pytest
from msgspec.structs import replace

from publisher.cutfiles import CutOptions, sheet_lines, sheet_work
from publisher.cutfiles.blade import lead, overcut
from publisher.cutfiles.once import CutOnce
from publisher.geometry.path import Arc, Line, Path, circle, polygon
from publisher.layout import Placed, Sheet
from tests.handmade import CARD, sliding_box_pattern
from tests.sheets import laid, trade, window_pattern

SQUARE = polygon([(0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0)])


def test_an_overcut_goes_over_the_beginning_once_more() -> None:
    more = overcut(SQUARE, 0.5)
    assert not more.closed
    assert more.length_mm == pytest.approx(40.5)
    assert (more.start, more.end) == ((0.0, 0.0), (0.5, 0.0))
    assert overcut(SQUARE, 12).end == (10.0, 2.0)
    round_ = overcut(circle((0, 0), 5), 1.0)
    assert isinstance(round_.segments[-1], Arc)
    assert round_.length_mm == pytest.approx(10 * math.pi + 1)
    open_line = Path((Line((0, 0), (9, 0)),), closed=False)
    assert overcut(open_line, 1) is open_line


def test_a_lead_comes_straight_from_the_waste() -> None:
    def outside(p: tuple[float, float]) -> bool:
        return not (0 <= p[0] <= 10 and 0 <= p[1] <= 10)

    assert lead(SQUARE, 0.8, outside) == Line((-0.8, 0.0), (0.0, 0.0))
    # In a hole the way back from a corner leads into paper: come slanting from the middle.
    found = lead(SQUARE, 0.8, lambda p: not outside(p) and 0 < p[0] < 10 and 0 < p[1] < 10)
    assert found is not None
    assert found.length_mm == pytest.approx(0.8)
    assert found.start[0] > 0
    assert found.start[1] > 0
    assert lead(SQUARE, 0.8, lambda p: False) is None
    assert lead(SQUARE, 0.0, outside) is None


def test_only_closed_cuts_are_lengthened_and_only_where_asked_for() -> None:
    pattern, sheets = laid(window_pattern())
    plain = sheet_lines(pattern, sheets[0], CutOptions(machine="roll cutter"), trade())
    blade = sheet_lines(pattern, sheets[0], CutOptions(machine="roll cutter", blade=True), trade())
    machine = trade().machines["roll cutter"]
    extra = machine.overcut_mm + machine.lead_mm
    closed = sum(p.closed for run in plain.runs for p in run.paths)
    assert closed == 4
    assert sheet_work(blade).cut_mm - sheet_work(plain).cut_mm == pytest.approx(4 * extra)
    assert sheet_work(blade).score_mm == pytest.approx(sheet_work(plain).score_mm)


def test_what_is_cut_is_not_cut_again() -> None:
    sheet = CutOnce()
    assert sheet.left(SQUARE) == (SQUARE,)
    right = polygon([(10.0, 2.0), (20.0, 2.0), (20.0, 8.0), (10.0, 8.0)])
    (rest,) = sheet.left(right)
    assert not rest.closed
    assert rest.length_mm == pytest.approx(26)
    assert {rest.start, rest.end} == {(10.0, 2.0), (10.0, 8.0)}
    # Over the whole height of what is cut: a stretch above and one below are left.
    left = polygon([(-9.0, -5.0), (0.0, -5.0), (0.0, 15.0), (-9.0, 15.0)])
    (rest,) = sheet.left(left)
    assert rest.length_mm == pytest.approx(58 - 10)
    assert sheet.left(SQUARE) == ()


def test_cards_edge_to_edge_are_cut_once() -> None:
    """Four cards of 30 x 20, two by two: 12 edges instead of 16, 300 mm instead of 400."""
    base = sliding_box_pattern()
    card = replace(base.pieces[2], name="card", stock=CARD, copies=4, derived=None)
    ring = polygon([(0.0, 0.0), (30.0, 0.0), (30.0, 20.0), (0.0, 20.0)])
    card = replace(
        card, outline=replace(card.outline, outer=ring, holes=()), scores=(), openings=()
    )
    pattern = replace(base, pieces=(card,))
    spots = [(10 + 30 * (n % 2), 10 + 20 * (n // 2)) for n in range(4)]
    placed = tuple(Placed("card", n + 1, x, y, 0.0) for n, (x, y) in enumerate(spots))
    sheet = Sheet("card-1", CARD, trade().sheets["a4"], placed)
    assert sheet_work(sheet_lines(pattern, sheet)).cut_mm == pytest.approx(400)
    once = sheet_lines(pattern, sheet, CutOptions(once=True), trade())
    assert sheet_work(once).cut_mm == pytest.approx(300)
