"""All printed pieces of a pattern as one PDF for each paper, and their cut lines as SVG."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from publisher.cutfiles import WRITERS, sheet_lines
from publisher.drawing.theme import Theme
from publisher.model.types import Pattern
from publisher.printed.arrange import on_paper
from publisher.printed.artwork import named_face
from publisher.printed.pages import pages_of
from publisher.printed.types import Artwork, Fill, PrintedSheets
from publisher.templates.canvas import Canvas
from publisher.templates.document import tagged_pdf
from publisher.trade import Trade

PAPERS = ("a4", "letter")


def fills_of(pattern: Pattern, theme: Theme) -> dict[str, Fill]:
    """What the pattern's patterned papers look like in this theme, by the stock's name."""
    style = theme.fills["pattern"]
    if style.dots is None:
        return {}
    stocks = {piece.stock.name: piece.stock for piece in pattern.pieces if piece.stock.patterned}
    return {
        name: Fill(
            theme.paper_colour("front", stock),
            theme.fill_colour(style, stock),
            style.dots.spacing_mm,
            style.dots.radius_mm,
        )
        for name, stock in stocks.items()
    }


class Written(PrintedSheets, frozen=True):
    """Sheets with the files that were written of them, by path within the bundle's folder of
    printed pieces: the PDF, and an SVG of each sheet."""

    files: tuple[tuple[str, bytes], ...]

    @property
    def pdf(self) -> str:
        return self.files[0][0]


def write_printed(
    pattern: Pattern,
    artwork: Sequence[Artwork],
    fills: Mapping[str, Fill],
    trade: Trade,
    language: str = "en",
) -> tuple[Written, ...]:
    """For each paper that holds any: pieces with artwork, and pieces of a paper in ``fills`` (by
    the stock's name), which a maker may print where there is no such paper to be had."""
    pictures = {named_face(own): own for own in artwork}
    names = {own.piece for own in artwork}
    names |= {piece.name for piece in pattern.pieces if piece.stock.name in fills}
    found: list[Written] = []
    if not names:
        return ()
    for paper in PAPERS:
        laid = on_paper(pattern, names, trade, paper)
        if not laid.sheets:
            continue
        bleed = trade.practice["bleed_mm"].value
        canvases: list[Canvas] = []
        files: list[tuple[str, bytes]] = []
        for number, sheet in enumerate(laid.sheets, 1):
            name = f"sheet {number} of {len(laid.sheets)}"
            canvases += pages_of(pattern, sheet, pictures, fills, bleed, name)
            lines = WRITERS["svg"](sheet_lines(pattern, sheet))
            files.append((f"svg/{pattern.name}-{paper}-{number}.svg", lines))
        pdf = tagged_pdf(canvases, f"{pattern.meta.title}: printed pieces", language)
        whole = ((f"{pattern.name}-{paper}.pdf", pdf), *files)
        found.append(Written(laid.paper, laid.sheets, laid.too_large, whole))
    return tuple(found)
