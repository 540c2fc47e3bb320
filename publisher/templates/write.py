"""All templates of a pattern as one PDF for each paper."""

from __future__ import annotations

from collections.abc import Sequence

from publisher.layout.types import Sheet
from publisher.model.types import Pattern
from publisher.templates.arrange import GAP_MM, arrange, squares_of, without_room
from publisher.templates.canvas import Canvas
from publisher.templates.cutting_page import draw_cutting
from publisher.templates.document import tagged_pdf
from publisher.templates.flow import Flow
from publisher.templates.front import draw_front
from publisher.templates.piece_page import PRINT, draw_page, signs_of
from publisher.templates.strip import StripWords, draw_words
from publisher.templates.types import INCH_MM, TemplatePage, Warned
from publisher.trade import SheetSize, Trade
from publisher.trimmer import CuttingTable, cutting_table

PAPERS = ("a4", "letter")


def template_path(pattern: Pattern, paper: str) -> str:
    """``sliding-box-a4.pdf``, in a bundle's folder of templates."""
    return f"{pattern.name}-{paper}.pdf"


def write_templates(
    pattern: Pattern,
    sheets: Sequence[Sheet],
    trade: Trade,
    warned: Sequence[Warned] = (),
    language: str = "en",
) -> dict[str, bytes]:
    """The bytes of each PDF by ``template_path``. Raises KeyError where ``trade`` lacks a
    paper or the practice of overlaps and rulers."""
    table = cutting_table(pattern, sheets, trade)
    overlap = trade.practice["tile_overlap_mm"].value
    small = without_room(pattern)
    found = {}
    for paper in PAPERS:
        size = trade.sheets[paper]
        pages = arrange(pattern, size, overlap, small)
        canvases = _front(pattern, size, pages, table, warned)
        last = len(canvases) + len(pages)
        for number, canvas in enumerate(canvases, 1):
            _strip(canvas, pattern, size, f"page {number} of {last}")
        canvases += [
            draw_page(pattern, sheets, page, f"page {number} of {last}")
            for number, page in enumerate(pages, len(canvases) + 1)
        ]
        title = f"{pattern.meta.title}: templates"
        found[template_path(pattern, paper)] = tagged_pdf(canvases, title, language)
    return found


def _front(
    pattern: Pattern,
    paper: SheetSize,
    pages: Sequence[TemplatePage],
    table: CuttingTable,
    warned: Sequence[Warned],
) -> list[Canvas]:
    """The pages before the pieces. How many they are is known when they are drawn, and they
    say on which pages the pieces are: drawn again where the guess was wrong."""
    guess = 1
    while True:
        flow = Flow(paper)
        draw_front(flow, pattern, _where(pages, guess), warned)
        draw_cutting(flow, table)
        if len(flow.pages) == guess:
            return flow.pages
        guess = len(flow.pages)


def _where(pages: Sequence[TemplatePage], before: int) -> dict[str, str]:
    found: dict[str, list[int]] = {}
    for number, page in enumerate(pages, before + 1):
        for laid in page.laid:
            found.setdefault(laid.placed.piece, []).append(number)
    return {
        piece: str(own[0]) if len(own) == 1 else f"{own[0]} to {own[-1]}"
        for piece, own in found.items()
    }


def _strip(canvas: Canvas, pattern: Pattern, paper: SheetSize, number: str) -> None:
    margin = paper.margin_mm
    left = squares_of(paper, "foot")[1][0] + INCH_MM + GAP_MM
    top = paper.height_mm - margin - INCH_MM
    signs = ["cut", *(sign for piece in pattern.pieces for sign in signs_of(piece))]
    words = StripWords(pattern.meta.title, "Before you cut", number, (PRINT,), tuple(signs))
    draw_words(canvas, words, (left, top, paper.width_mm - margin, paper.height_mm - margin))
