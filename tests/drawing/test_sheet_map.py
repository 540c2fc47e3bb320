from __future__ import annotations

import pytest
from msgspec.structs import replace

from publisher.drawing.sheet_map import ROOM_MM, copy_name, draw_sheet, grain_said
from publisher.drawing.types import Fill, Label
from publisher.geometry.measure import path_bounds
from publisher.geometry.path import Region, polygon
from publisher.layout import Placed, Sheet
from publisher.trade import SheetSize
from tests.drawing.clean import faults
from tests.drawing.makeshift import pattern_of
from tests.handmade import CARD, sleeve_mat, sliding_box_pattern

A4 = SheetSize("a4", "A4", 210.0, 297.0, 5.0, "ISO 216")
GRAINS = ("long", "short", "none")
A3 = SheetSize("a3", "A3", 297.0, 420.0, 5.0, "ISO 216")
BOX = sliding_box_pattern()
SHEET = Sheet(
    "card-1",
    CARD,
    A3,
    (
        Placed("sleeve", 1, 5.0, 5.0, 0.0),
        Placed("drawer", 1, 140.0, 30.0, 90.0),
    ),
)


def test_pieces_lie_where_the_layout_put_them() -> None:
    drawing = draw_sheet(BOX, SHEET)
    fills = {i.id: i for i in drawing.items if isinstance(i, Fill) and i.role == "front"}
    assert sorted(fills) == ["drawer-1", "sleeve-1"]
    sleeve = path_bounds(fills["sleeve-1"].rings[0])
    drawer = path_bounds(fills["drawer-1"].rings[0])
    # Turned by a quarter the drawer is 128 wide and 168 high.
    assert (drawer[2] - drawer[0]) / drawing.scale == pytest.approx(128.0)
    assert (drawer[3] - drawer[1]) / drawing.scale == pytest.approx(168.0)
    assert (drawer[0] - sleeve[0]) / drawing.scale == pytest.approx(135.0)
    assert (drawer[1] - sleeve[1]) / drawing.scale == pytest.approx(25.0)


def test_names_stand_in_the_pieces_and_nothing_overlaps() -> None:
    drawing = draw_sheet(BOX, SHEET)
    names = [i.text for i in drawing.items if isinstance(i, Label) and i.role == "name"]
    assert sorted(names) == ["drawer", "sleeve"]
    assert faults(drawing) == []


def test_it_fits_its_room() -> None:
    for size in (A4, A3):
        drawing = draw_sheet(BOX, replace(SHEET, size=size))
        assert size.width_mm * drawing.scale <= ROOM_MM[0]
        assert size.height_mm * drawing.scale <= ROOM_MM[1]


def test_small_copies_are_named_beside_with_their_numbers() -> None:
    ring = polygon(((0, 0), (12, 0), (12, 8), (0, 8)))
    tag = replace(
        sleeve_mat(), name="seed tag", copies=3, outline=Region(ring), derived=None, panels=()
    )
    pattern = pattern_of([tag])
    placed = tuple(Placed("seed tag", n + 1, 5.0, 5.0 + 30.0 * n, 0.0) for n in range(3))
    drawing = draw_sheet(pattern, Sheet("card-1", CARD, A4, placed))
    names = [i.text for i in drawing.items if isinstance(i, Label) and i.role == "name"]
    assert sorted(names) == ["seed tag 1", "seed tag 2", "seed tag 3"]
    assert [copy_name(tag, p) for p in placed] == sorted(names)
    assert faults(drawing) == []


def test_the_caption_and_the_alternative_text() -> None:
    drawing = draw_sheet(BOX, SHEET)
    captions = [i.text for i in drawing.items if isinstance(i, Label) and i.role == "label"]
    assert captions[0].startswith("Card, A3, 297 × 420 mm")
    assert captions[1] == f"front face, 1:{1 / drawing.scale:g}, grain along the long side"
    assert "drawer: 140 mm (5 1/2 in) from the left" in drawing.alt
    assert "turned by 90°" in drawing.alt
    assert "sleeve: 5 mm" in drawing.alt


def test_a_square_sheet_has_no_long_side() -> None:
    square = SheetSize("12 x 12 in", "12 × 12 in", 304.8, 304.8, 5.0, "by its name")
    said = {g: grain_said(Sheet("a", replace(CARD, grain=g), square, ())) for g in GRAINS}
    assert said == {
        "long": "grain from top to bottom",
        "short": "grain from left to right",
        "none": "",
    }
    assert (
        grain_said(Sheet("a", replace(CARD, grain="short"), A4, ())) == "grain along the short side"
    )
