"""Which piece goes on which page, and what stands beside it."""

from __future__ import annotations

import pytest
import shapely

from publisher.geometry.shapely_bridge import to_shapely
from publisher.layout import on_sheet, placed_bounds
from publisher.templates.arrange import arrange
from publisher.templates.types import TemplatePage, tile_name
from tests.handmade import envelope_pattern, sliding_box_pattern
from tests.sheets import trade
from tests.templates.printed import corner_piece, of, plain

PATTERNS = {
    "box": sliding_box_pattern(),
    "envelope": envelope_pattern(),
    "small": of(*(plain(f"slip {n}", 30.0 + n, 12.0) for n in range(20))),
    "long": of(plain("strip", 120.0, 280.0), plain("handle", 200.0, 12.0)),
    "large": of(corner_piece(), plain("dot", 20.0, 20.0)),
}


def pages(name: str, paper: str) -> tuple[TemplatePage, ...]:
    return arrange(PATTERNS[name], trade().sheets[paper], 10.0)


@pytest.mark.parametrize("paper", ["a4", "letter"])
@pytest.mark.parametrize("name", list(PATTERNS))
def test_nothing_lies_on_anything(name: str, paper: str) -> None:
    """Pieces, squares and margins keep apart; squares may lie within a piece that leaves no
    other place, and then away from all its lines."""
    pattern = PATTERNS[name]
    for page in pages(name, paper):
        margin = page.paper.margin_mm
        inner = shapely.box(
            margin, margin, page.paper.width_mm - margin, page.paper.height_mm - margin
        ).buffer(1e-6)
        squares = [
            shapely.box(x, y, x + side, y + side)
            for (x, y), side in zip(page.squares, (50.0, 50.8), strict=True)
        ]
        assert all(inner.contains(square) for square in squares)
        assert squares[0].intersection(squares[1]).area == 0.0
        papers = []
        for laid in page.laid:
            piece = pattern.piece(laid.placed.piece)
            paper_of = to_shapely(on_sheet(piece.outline, piece, laid.placed))
            if laid.tile is not None:
                clip = shapely.box(*laid.tile.clip)
                assert inner.contains(clip)
                paper_of = paper_of.intersection(clip)
            assert inner.contains(paper_of)
            for square in squares:
                apart = paper_of.distance(square) >= 2.0
                within = paper_of.buffer(-2.0).contains(square)
                assert apart or (page.foot == "inside" and within)
            papers.append(paper_of)
        for index, one in enumerate(papers):
            for other in papers[index + 1 :]:
                assert one.distance(other) >= 4.9


@pytest.mark.parametrize("paper", ["a4", "letter"])
@pytest.mark.parametrize("name", list(PATTERNS))
def test_every_piece_is_there_once(name: str, paper: str) -> None:
    whole = [
        laid.placed.piece for page in pages(name, paper) for laid in page.laid if laid.tile is None
    ]
    parts = {laid.placed.piece for page in pages(name, paper) for laid in page.laid if laid.tile}
    assert sorted([*whole, *parts]) == sorted(piece.name for piece in PATTERNS[name].pieces)


def test_a_page_has_one_stock() -> None:
    pattern = PATTERNS["box"]
    for page in pages("box", "a4"):
        assert {pattern.piece(laid.placed.piece).stock for laid in page.laid} == {page.stock}


def test_pages_are_filled() -> None:
    """Twenty slips share a page; what a long strip leaves beside it is used."""
    assert len(pages("small", "a4")) == 1
    (page,) = pages("long", "a4")
    assert page.foot == "side"
    assert len(page.laid) == 2


def test_an_envelope_fits_one_page() -> None:
    """190 x 233 and the squares: below it on A4 (287 - 233 = 54 are left), within on Letter."""
    assert [page.foot for page in pages("envelope", "a4")] == ["foot"]
    assert [page.foot for page in pages("envelope", "letter")] == ["inside"]


def test_parts_cover_a_large_piece_and_share_a_strip() -> None:
    piece = corner_piece()
    found = [page.laid[0] for page in pages("large", "a4") if page.laid[0].tile]
    # (380 - 10) / (233.2 - 10) and (330 - 10) / (200 - 10) are both between one and two.
    assert [(e.tile.rows, e.tile.columns) for e in found if e.tile] == [(2, 2)] * 3
    assert [e.tile.name for e in found if e.tile] == ["A1", "A2", "B1"]
    shown = []
    for entry in found:
        assert entry.tile is not None
        box = placed_bounds(piece, entry.placed)
        x0, y0, x1, y1 = entry.tile.clip
        shown.append(shapely.box(x0 - box[0], y0 - box[1], x1 - box[0], y1 - box[1]))
    paper = to_shapely(piece.outline)
    assert paper.difference(shapely.union_all(shown)).area < 1e-6
    first, right, below = shown
    assert first.intersection(right).bounds[2] - first.intersection(right).bounds[
        0
    ] == pytest.approx(10.0)
    assert first.intersection(below).bounds[3] - first.intersection(below).bounds[
        1
    ] == pytest.approx(10.0)


@pytest.mark.parametrize(
    ("row", "column", "name"), [(0, 0, "A1"), (1, 2, "B3"), (25, 0, "Z1"), (26, 9, "AA10")]
)
def test_names_of_parts(row: int, column: int, name: str) -> None:
    assert tile_name(row, column) == name
