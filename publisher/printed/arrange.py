"""Printed pieces on sheets of a printer's paper, with room for bleed and crosses."""

from __future__ import annotations

from collections.abc import Collection

from msgspec.structs import replace

from publisher.layout import lay_out
from publisher.model.types import Pattern
from publisher.printed.types import PrintedSheets
from publisher.trade import Trade

MARGIN_MM = 12.0
"""Holds the bleed of the pieces, the crosses and a line of words."""
APART_MM = 1.0
"""Between the bleeds of two pieces."""


def on_paper(pattern: Pattern, pieces: Collection[str], trade: Trade, paper: str) -> PrintedSheets:
    """All copies of these pieces on as few sheets of a paper as their boxes need.

    Raises KeyError where the trade lacks the paper or the practice of bleeds.
    """
    bleed = trade.practice["bleed_mm"].value
    size = replace(trade.sheets[paper], margin_mm=MARGIN_MM)
    own = replace(pattern, pieces=tuple(p for p in pattern.pieces if p.name in pieces))
    sheets, found = lay_out(
        own,
        replace(trade, sheets={paper: size}),
        paper,
        gap_mm=2 * bleed + APART_MM,
        nested=False,
    )
    laid = {placed.piece for sheet in sheets for placed in sheet.placed}
    too_large = tuple(p.name for p in own.pieces if p.name not in laid)
    assert len(found) == len(too_large)
    return PrintedSheets(paper, sheets, too_large)
