"""The first pages: what is where, cautions, the cutting table in a maker's words."""

from __future__ import annotations

import pypdfium2 as pdfium
from msgspec.structs import replace

from publisher.templates import Warned, write_templates
from publisher.templates.cutting_page import deviation_words, score_words
from publisher.trimmer.types import Deviation, Figures, ScoreMark
from tests.handmade import sliding_box_pattern
from tests.sheets import laid, trade
from tests.templates.printed import corner_piece, of, plain

BLADE = Warned("caution", "A craft knife cuts fingers.", "Cut away from the hand that holds.")
TABLE = Warned("notice", "A blade goes through card.", "Cut on a mat.")


def pages(data: bytes) -> list[str]:
    document = pdfium.PdfDocument(data)
    return [" ".join(str(p.get_textpage().get_text_range()).split()) for p in document]


def written(*warned: Warned) -> list[str]:
    pattern, sheets = laid(sliding_box_pattern())
    return pages(write_templates(pattern, sheets, trade(), warned)["sliding-box-a4.pdf"])


def test_the_first_page_says_where_each_piece_is() -> None:
    first, *others = written()
    for piece in sliding_box_pattern().pieces:
        number = next(n for n, page in enumerate(others, 2) if f"{piece.name} cut 1 from" in page)
        assert f"{piece.name} 1 {piece.stock.title}" in first
        row = first.split(f"{piece.name} 1 {piece.stock.title} ")[1]
        assert f" {number} " in row[:40]


def test_cautions_are_printed_as_they_are_given() -> None:
    first = written(BLADE, TABLE)[0]
    assert "CAUTION A craft knife cuts fingers. Cut away from the hand that holds." in first
    assert "NOTICE A blade goes through card. Cut on a mat." in first
    assert "Take care" not in written()[0]


def test_the_cutting_table_is_said() -> None:
    first = written()[0]
    assert "22, 106 mm, from 22 to 146" in first
    assert "Not here, since they have curves: sleeve, sleeve mat." in first
    assert "Cut 1: across, 128 mm (5 1/16 in) from the top edge" in first
    assert "Cut 2: down, 168 mm (6 5/8 in) from the left edge" in first
    assert "Left over in one piece: 210 × 169 mm" in first


def test_no_table_where_all_is_curved() -> None:
    pattern, sheets = laid(sliding_box_pattern())
    curved = replace(pattern, pieces=pattern.pieces[1:])
    text = pages(write_templates(curved, sheets, trade())["sliding-box-a4.pdf"])[0]
    assert "Cutting table" not in text


def test_parts_of_a_large_piece_are_counted_in() -> None:
    pattern = of(corner_piece())
    first, *others = pages(write_templates(pattern, (), trade())["trial-a4.pdf"])
    assert len(others) == 3
    assert "corner 1 Card" in first
    assert "2 to 4" in first


def test_many_pieces_take_more_than_one_page() -> None:
    pattern = of(*(plain(f"slip {n}", 40.0, 30.0 + n % 7) for n in range(40)))
    texts = pages(write_templates(pattern, (), trade())["trial-a4.pdf"])
    fronts = [text for text in texts if "Before you cut" in text]
    assert len(fronts) > 1
    # Every page number is right although the first pages push the others back.
    whole = " ".join(fronts)
    for n in (0, 20, 39):
        number = next(i for i, t in enumerate(texts, 1) if f"slip {n} cut 1" in t)
        piece = next(p for p in pattern.pieces if p.name == f"slip {n}")
        row = whole.split(f"slip {n} 1 {piece.stock.title} ")[1]
        assert f" {number} " in f" {row[:34]} "


def test_scores_in_words() -> None:
    inch = 25.4
    marks = (ScoreMark(2.5 * inch, 0), ScoreMark(6.25 * inch, 0), ScoreMark(6.375 * inch, 0))
    assert score_words(marks, "in") == "2 1/2, 6 1/4, 6 3/8 in"
    part = (ScoreMark(22.0, 22.0, 10.0, 40.0), ScoreMark(30.0, 30.0))
    assert score_words(part, "mm") == "22 mm, from 10 to 40; 30 mm"


def test_rounding_in_words() -> None:
    off = (Deviation(0.0, 25.4, 25.0, 25.4), Deviation(25.4, 50.8, 25.6, 25.4))
    assert deviation_words(Figures("in", 0, 0, (), (), off)) == [
        "In inches, 0 to 1 is 0.4 mm more; 1 to 2 is 0.2 mm less than designed."
    ]
    assert deviation_words(Figures("mm", 0, 0, (), (), ())) == []
