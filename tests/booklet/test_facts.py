"""The short facts and tables."""

from __future__ import annotations

from msgspec.structs import replace

from publisher.booklet.facts import (
    facts,
    file_words,
    piece_rows,
    sheet_titles,
    size_rows,
)
from publisher.model.types import Size
from tests.booklet.book import sliding_box_sheets
from tests.handmade import at, sliding_box_pattern


def test_facts_of_the_cover() -> None:
    pattern = sliding_box_pattern()
    assert facts(pattern) == (
        ("Level", "Easy"),
        ("Time", "40 min"),
        ("Holds", "120 × 80 × 20 mm (4 3/4 × 3 1/8 × 13/16 in)"),
    )
    assert facts(replace(pattern, claims=()))[2] == ("Pieces", "3")


def test_sizes_stand_in_both_units_the_authors_first() -> None:
    pattern = sliding_box_pattern()
    rows = {row.name: row for row in size_rows(pattern)}
    assert (rows["Depth"].first, rows["Depth"].second) == ("22", "7/8")
    assert (rows["Play"].first, rows["Play"].second) == ("1", "0.039")
    assert rows["Stack"].first == "120 × 80 × 20"
    inches = replace(pattern, meta=replace(pattern.meta, first_unit="in"))
    turned = {row.name: row for row in size_rows(inches)}
    assert (turned["Depth"].first, turned["Depth"].second) == ("7/8", "22")


def test_angles_and_plain_numbers_have_one_column() -> None:
    span = at("x.md", 1)
    sizes = (
        Size("lean", (12.5,), "deg", "12.5 degrees", "", None, span),
        Size("panels", (4.0,), "", "4", "how many", None, span),
    )
    rows = size_rows(replace(sliding_box_pattern(), sizes=sizes))
    assert [(r.name, r.first, r.second) for r in rows] == [
        ("Lean", "12.5°", ""),
        ("Panels", "4", ""),
    ]


def test_pieces_are_measured_as_cut() -> None:
    rows = piece_rows(sliding_box_pattern())
    assert [(r.name, r.count, r.stock, r.first) for r in rows] == [
        ("Drawer", 1, "Card", "168 × 128"),
        ("Sleeve", 1, "Card", "125 × 230.5"),
        ("Sleeve mat", 1, "Patterned paper", "117 × 78"),
    ]


def test_sheets_are_numbered_where_there_are_several() -> None:
    titles = sheet_titles(sliding_box_sheets(sliding_box_pattern()))
    assert titles == ("Card, A4, sheet 1 of 2", "Card, A4, sheet 2 of 2", "Patterned paper, A4")


def test_files_that_differ_in_format_are_named_once() -> None:
    files = ("cut-files/svg/card-1.svg", "cut-files/dxf/card-1.dxf", "cut-files/svg/card-2.svg")
    assert file_words(files) == "card-1 (svg, dxf); card-2 (svg)"
