"""Pieces that go on no sheet, in parts."""

from __future__ import annotations

import pytest

from publisher.geometry.booleans import region_union
from publisher.geometry.measure import area
from publisher.geometry.path import Line, Path, Region, circle, polygon
from publisher.geometry.segments import reversed_path
from publisher.geometry.transform import translated
from publisher.layout import chosen_misfits, lay_chosen, to_cut
from publisher.model.division import Division
from publisher.model.types import Opening, Piece, Score
from publisher.trade import Cutting
from tests.handmade import BOX_FILE, at
from tests.layout.test_lay_out import plain, with_pieces
from tests.sheets import trade

SPAN = at(BOX_FILE, 90)
A4 = Cutting(sheet="a4")


def down(x: float, tab: float = 12.0) -> Division:
    return Division((x, 0.0), (x, 60.0), tab, SPAN)


def banner(length: float, *divisions: Division, **more: object) -> Piece:
    from msgspec.structs import replace

    return replace(plain("banner", length, 60.0), divisions=divisions, **more)


def widths(pieces: tuple[Piece, ...]) -> list[float]:
    return [round(p.bounds[2] - p.bounds[0], 6) for p in pieces]


def test_what_fits_stays_whole() -> None:
    pattern = with_pieces(banner(250.0, down(100.0)))
    assert to_cut(pattern, trade(), A4) is pattern


def test_two_parts_and_a_tab() -> None:
    pattern = with_pieces(banner(400.0, down(190.0)))
    first, second = to_cut(pattern, trade(), A4).pieces
    assert [first.name, second.name] == ["banner part 1", "banner part 2"]
    assert widths((first, second)) == [202.0, 210.0]
    (tab,) = first.glue_zones
    assert tab.face == "front"
    assert area(tab.region) == pytest.approx(12.0 * 60.0)
    assert second.glue_zones == ()
    assert first.bounds[:2] == second.bounds[:2] == (0.0, 0.0)
    # Glued on the tab they are the whole again.
    (whole,) = region_union([first.outline, translated(second.outline, 190.0, 0.0)])
    assert area(whole) == pytest.approx(400.0 * 60.0)


def test_as_few_parts_as_will_do() -> None:
    """Of lines at 100, 200 and 300 the one at 200 is enough for 400."""
    pattern = with_pieces(banner(400.0, down(100.0), down(200.0), down(300.0)))
    assert widths(to_cut(pattern, trade(), A4).pieces) == [212.0, 200.0]
    long = with_pieces(banner(800.0, *(down(100.0 * n) for n in range(1, 7))))
    parts = to_cut(long, trade(), A4).pieces
    # A step of 300 and its tab would be too long: 200 it is, four times.
    assert widths(parts) == [212.0, 212.0, 212.0, 200.0]


def test_everything_on_the_piece_comes_along() -> None:
    hole = reversed_path(circle((200.0, 30.0), 15.0))
    outline = Region(polygon([(0, 0), (400, 0), (400, 60), (0, 60)]), (hole,))
    score = Score("fold", Path((Line((0, 15), (400, 15)),), False), "valley", "fold", SPAN)
    slit = Opening(
        "slit", "slit", "line", Path((Line((300, 20), (300, 50)),), False), "x", 30.0, 0.0, SPAN
    )
    piece = banner(400.0, down(200.0), outline=outline, scores=(score,), openings=(slit,))
    first, second = to_cut(with_pieces(piece), trade(), A4).pieces
    # The line goes through the hole, whose edge both parts keep.
    assert first.outline.holes == second.outline.holes == ()
    assert sum(area(zone.region) for zone in first.glue_zones) < 12.0 * 60.0 - 100.0
    assert [s.path.length_mm for s in first.scores] == [pytest.approx(212.0)]
    assert [s.path.length_mm for s in second.scores] == [pytest.approx(200.0)]
    assert first.openings == ()
    assert [o.path.start[0] for o in second.openings] == [pytest.approx(100.0)]


def test_parts_are_laid_and_there_is_no_finding() -> None:
    pattern = with_pieces(banner(400.0, down(200.0)))
    assert chosen_misfits(pattern, trade(), A4) == []
    sheets, found = lay_chosen(to_cut(pattern, trade(), A4), trade(), A4)
    assert found == []
    assert sorted(p.piece for s in sheets for p in s.placed) == ["banner part 1", "banner part 2"]


def test_a_line_that_does_not_help() -> None:
    (finding,) = chosen_misfits(with_pieces(banner(600.0, down(100.0))), trade(), A4)
    assert finding.code == "piece-larger-than-sheet"
    assert not any("cut in two" in way.text for way in finding.ways_out)


def test_where_there_is_no_line_one_is_proposed() -> None:
    (finding,) = chosen_misfits(with_pieces(banner(400.0)), trade(), A4)
    assert "divide along 200 mm right of left, 12 mm tab" in finding.ways_out[-1].text
    tall = with_pieces(plain("pole", 60.0, 400.0))
    (finding,) = chosen_misfits(tall, trade(), A4)
    assert "divide along 200 mm below top, 12 mm tab" in finding.ways_out[-1].text
