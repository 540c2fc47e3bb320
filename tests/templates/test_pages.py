"""What a printed page shows, read back by PDFium and by pikepdf."""

from __future__ import annotations

import io
import re

import pikepdf
import pypdfium2 as pdfium
import pytest

from publisher.templates.faces import shaped, wrapped
from publisher.templates.words import grain_of
from tests.handmade import envelope_pattern, sliding_box_pattern
from tests.sheets import laid
from tests.templates.printed import box_written, corner_piece, of, plain, written


def words(data: bytes, page: int) -> str:
    document = pdfium.PdfDocument(data)
    text = str(document[page].get_textpage().get_text_range())
    return " ".join(text.split())


def test_a_page_says_what_a_knife_must_know() -> None:
    data = box_written()["sliding-box-a4.pdf"]
    said = " ".join(words(data, number) for number in range(4))
    for piece in sliding_box_pattern().pieces:
        assert piece.name in said
    assert "cut 1 from card" in said
    assert "front face up" in said
    assert "168 × 128 mm (6 5/8 × 5 1/16 in)" in said
    assert "score, mountain fold" in said
    assert "grain" in said
    for number in range(len(pdfium.PdfDocument(data))):
        assert "50 mm" in words(data, number)
        assert "2 in" in words(data, number)
        assert f"page {number + 1} of 4" in words(data, number)


def test_copies_are_said_and_not_drawn() -> None:
    data = written(of(plain("slip", 60.0, 40.0, copies=12)))["trial-a4.pdf"]
    assert "cut 12 from card" in words(data, 1)
    assert words(data, 1).count("slip") == 1


def test_a_piece_too_small_for_words_has_them_below() -> None:
    data = written(of(plain("dot", 8.0, 8.0)))["trial-a4.pdf"]
    assert "dot: cut 1, front face up" in words(data, 1)


def test_parts_say_where_they_join() -> None:
    data = written(of(corner_piece()))["trial-a4.pdf"]
    first = words(data, 1)
    assert "part A1" in first
    assert "A2 joins here" in first
    assert "B1 joins here" in first
    assert "B2" not in first
    assert "A1 joins here" in words(data, 2)


def test_glue_on_the_other_face_is_told_apart() -> None:
    data = written(*laid(envelope_pattern()))["envelope-letter.pdf"]
    assert "glue on the other face" in words(data, 1)
    assert "glue on this face" not in words(data, 1)


def test_the_grain_arrow_follows_the_sheet() -> None:
    pattern, sheets = laid(sliding_box_pattern())
    drawer = pattern.piece("drawer")
    # Card has its grain along the long side, an A4 sheet stands upright, pieces are not turned.
    assert {p.turn_deg for s in sheets for p in s.placed if p.piece == "drawer"} == {0.0}
    assert grain_of(drawer, sheets) == "down"
    assert grain_of(pattern.piece("sleeve mat"), sheets) == ""
    assert grain_of(drawer, ()) == ""


def test_nothing_is_coloured() -> None:
    """A template is for any printer: grey and black only."""
    for data in box_written().values():
        with pikepdf.open(io.BytesIO(data)) as document:
            for page in document.pages:
                operators = {str(op) for _, op in pikepdf.parse_content_stream(page)}
                assert not operators & {"rg", "RG", "k", "K", "cs", "CS", "sc", "SC", "scn", "SCN"}


def test_letters_lie_in_the_file() -> None:
    with pikepdf.open(io.BytesIO(box_written()["sliding-box-a4.pdf"])) as document:
        fonts = document.pages[0].Resources.Font
        assert set(fonts.keys()) == {"/text", "/strong", "/title"}
        for font in fonts.values():
            descendant = font.DescendantFonts[0]
            assert re.fullmatch(r"/[A-Z]{6}\+\w+-\w+", str(descendant.BaseFont))
            data = bytes(descendant.FontDescriptor.FontFile2.read_bytes())
            assert data[:4] == b"\x00\x01\x00\x00"  # TrueType outlines (OpenType 1.9, "otff")
            assert len(data) == int(descendant.FontDescriptor.FontFile2.Length1)


def test_the_printer_is_asked_not_to_scale() -> None:
    with pikepdf.open(io.BytesIO(box_written()["sliding-box-a4.pdf"])) as document:
        assert document.Root.ViewerPreferences.PrintScaling == "/None"


def test_the_same_bytes_twice() -> None:
    pattern, sheets = laid(sliding_box_pattern())
    assert written(pattern, sheets) == box_written()


@pytest.mark.parametrize("text", ["9 3/16 in", "12 × 12", "Kärtchen"])
def test_every_glyph_stands_for_one_character(text: str) -> None:
    assert "".join(glyph.text for glyph in shaped(text).glyphs) == text
    assert all(glyph.number for glyph in shaped(text).glyphs)


def test_lines_are_no_wider_than_asked() -> None:
    text = "Print at actual size, 100 %, and measure both squares before you cut."
    lines = wrapped(text, 40.0, size_pt=8.0)
    assert len(lines) > 1
    assert all(line.width_mm <= 40.0 for line in lines)
    assert " ".join("".join(g.text for g in line.glyphs) for line in lines) == text
