"""A page of pieces at true size."""

from __future__ import annotations

from collections.abc import Sequence

from publisher.drawing.flat.alt import piece_alt
from publisher.drawing.flat.scaling import Scale
from publisher.geometry.measure import Bounds
from publisher.layout import Sheet, placed_bounds
from publisher.model.types import Pattern, Piece
from publisher.templates.arrange import GAP_MM, area_of, room_on_page
from publisher.templates.canvas import Canvas
from publisher.templates.ink import (
    draw_grain,
    draw_label,
    draw_lines,
    draw_lines_of_words,
    place_grain,
    within,
)
from publisher.templates.joins import draw_joins
from publisher.templates.spots import CLEAR_MM
from publisher.templates.strip import StripWords, draw_map, draw_squares, draw_words
from publisher.templates.types import INCH_MM, METRIC_MM, Laid, TemplatePage
from publisher.templates.words import caption_lines, grain_of, label_room, turned_grain

MAP_MM = 24.0
PRINT = "Print at actual size, 100\u00a0%, and measure both squares before you cut."
OVER = "Print on the paper itself, or on a plain sheet that you tape over it and cut through."


def draw_page(pattern: Pattern, sheets: Sequence[Sheet], page: TemplatePage, number: str) -> Canvas:
    """The page; ``number`` says which it is ("page 2 of 5")."""
    canvas = Canvas(page.paper.width_mm, page.paper.height_mm)
    signs: dict[str, None] = {"cut": None}
    squares = [
        (x, y, x + side, y + side)
        for (x, y), side in zip(page.squares, (METRIC_MM, INCH_MM), strict=True)
    ]
    heading = _what(pattern, page)
    strip = _strip_box(page)
    tile = page.laid[0].tile
    if tile is not None:
        room = (strip[2] - MAP_MM, strip[1], strip[2], strip[1] + MAP_MM)
        part = tile.clip
        draw_map(canvas, tile, (part[2] - part[0]) / (part[3] - part[1]), room)
        strip = (strip[0], strip[1], room[0] - 3.0, strip[3])
    for laid in page.laid:
        piece = pattern.piece(laid.placed.piece)
        taken = squares if page.foot == "inside" else []
        signs.update(dict.fromkeys(_draw_piece(canvas, pattern, sheets, piece, laid, taken)))
    if tile is not None and len(tile.there) > 1:
        signs["join"] = None
    draw_squares(canvas, page.squares, light=page.foot == "inside")
    says = (_tile_words(page.laid[0].placed.piece),) if tile is not None else (OVER,)
    words = StripWords(pattern.meta.title, heading, number, (PRINT, *says), tuple(signs))
    draw_words(canvas, words, strip, 3 if page.foot == "inside" else 1)
    return canvas


def _strip_box(page: TemplatePage) -> Bounds:
    margin, paper = page.paper.margin_mm, page.paper
    right, bottom = paper.width_mm - margin, paper.height_mm - margin
    if page.foot == "side":
        left = right - INCH_MM
        return (left, page.squares[1][1] + INCH_MM + GAP_MM, right, bottom)
    top = area_of(paper, page.foot)[3] + GAP_MM
    left = margin if page.foot == "inside" else page.squares[1][0] + INCH_MM + GAP_MM
    return (left, top, right, bottom)


def _what(pattern: Pattern, page: TemplatePage) -> str:
    stock = page.stock.title.lower()
    tile = page.laid[0].tile
    if tile is not None:
        return f"{page.laid[0].placed.piece}, part {tile.name}, in true size, from {stock}"
    if len(page.laid) == 1:
        return f"Template in true size, {stock}"
    return f"Templates in true size, {stock}"


def _tile_words(piece: str) -> str:
    return (
        f"The {piece} is larger than this page. Cut one part along its join line, lay it on the "
        "next so that the crosses meet, and tape it down."
    )


def _draw_piece(
    canvas: Canvas,
    pattern: Pattern,
    sheets: Sequence[Sheet],
    piece: Piece,
    laid: Laid,
    taken: list[Bounds],
) -> list[str]:
    """Draw a piece; gives the signs that it uses."""
    first = pattern.meta.ruler
    placed, tile = laid.placed, laid.tile
    clip = tile.clip if tile else None
    box = placed_bounds(piece, placed)
    shown = clip or box
    signs = signs_of(piece)
    alt = piece_alt(pattern, piece, Scale(1.0))
    if tile is not None:
        alt = f"Part {tile.name} of {len(tile.there)}. {alt}"
    with canvas.tagged("Figure", alt, shown):
        if clip is None:
            draw_lines(canvas, piece, placed)
        else:
            with canvas.clipped(clip):
                draw_lines(canvas, piece, placed)
    if tile is not None:
        draw_joins(canvas, tile)
    grain = turned_grain(grain_of(piece, sheets), placed.turn_deg)
    # Near joins there are words and crosses.
    inner = None if tile is None else _inset(tile.clip, tile.overlap_mm + 4.0)
    room = within(room_on_page(piece, placed, CLEAR_MM), inner, taken)
    if laid.captioned:
        lines = list(caption_lines(piece, first, grain))
        middle = (box[0] + box[2]) / 2
        left = middle - max(line.width_mm for line in lines) / 2
        draw_lines_of_words(canvas, lines, (left, box[3] + 1.6))
    else:
        label = label_room(piece, room, first)
        if label is not None:
            draw_label(canvas, label)
            room = within(room, None, [label.box])
    arrow = place_grain(room, grain) if grain else None
    if arrow is not None:
        draw_grain(canvas, arrow, grain)
        signs.append("grain")
    return signs


def signs_of(piece: Piece) -> list[str]:
    """The signs of the legend that a piece's lines call for."""
    signs = [f"score-{score.bend}" for score in piece.scores]
    signs += ["perforation" for o in piece.openings if o.kind == "perforation"]
    signs += ["engrave" if m.kind == "engrave" else "draw" for m in piece.marks]
    return signs + [f"glue-{zone.face}" for zone in piece.glue_zones]


def _inset(box: Bounds, by_mm: float) -> Bounds:
    return (box[0] + by_mm, box[1] + by_mm, box[2] - by_mm, box[3] - by_mm)
