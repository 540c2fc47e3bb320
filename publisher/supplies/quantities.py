"""Sheets and glue for one or many; papers that do in place of others."""

from __future__ import annotations

from collections.abc import Iterable

from publisher.geometry.measure import area
from publisher.layout import Sheet
from publisher.model.types import Pattern
from publisher.supplies.adhesive import glue_area_mm2, glue_line_mm
from publisher.supplies.types import SheetUse, Supplies
from publisher.trade import Cutting, Stock, Trade

TIMES = (1, 10, 50)
"""How many are reckoned where nothing else is asked for."""


def supplies(pattern: Pattern, sheets: Iterable[Sheet], times: int = 1) -> Supplies:
    """What these sheets and this pattern take; ``times`` is how often the sheets hold it."""
    groups: dict[tuple[str, str], list[Sheet]] = {}
    for sheet in sheets:
        groups.setdefault((sheet.stock.name, sheet.size.name), []).append(sheet)
    areas = {piece.name: area(piece.outline) for piece in pattern.pieces}
    uses = []
    for same in groups.values():
        size = same[0].size
        whole = len(same) * size.width_mm * size.height_mm
        used = sum(areas[placed.piece] for sheet in same for placed in sheet.placed)
        uses.append(SheetUse(same[0].stock, size, len(same), used / whole))
    return Supplies(
        times, tuple(uses), glue_area_mm2(pattern) * times, glue_line_mm(pattern) * times
    )


def batch(pattern: Pattern, trade: Trade, cutting: Cutting, times: int) -> Supplies:
    """What it takes to make the pattern ``times`` times, on sheets as chosen.

    Pieces are laid by their boxes, which is quick; laid by their shapes they may take a sheet
    less. A piece that goes on no sheet is left out.
    """
    from publisher.layout import lay_out
    from publisher.layout.chosen import with_margins
    from publisher.layout.laying import GAP_MM

    sheets, _ = lay_out(
        pattern,
        with_margins(trade, cutting),
        cutting.sheet or None,
        copies=times,
        gap_mm=GAP_MM if cutting.gap_mm is None else cutting.gap_mm,
        nested=False,
    )
    return supplies(pattern, sheets, times)


def batches(
    pattern: Pattern, trade: Trade, cutting: Cutting, times: Iterable[int] = TIMES
) -> tuple[Supplies, ...]:
    """``batch`` for several numbers."""
    return tuple(batch(pattern, trade, cutting, number) for number in times)


def substitutes(stock: Stock, trade: Trade) -> tuple[Stock, ...]:
    """Papers nearly as thick, patterned or plain like this one, the nearest first.

    Raises KeyError where the trade's practice does not say how near.
    """
    share = trade.practice["substitute_caliper_share"].value
    near = [
        other
        for other in trade.stocks.values()
        if other.name != stock.name
        and other.patterned == stock.patterned
        and abs(other.caliper_mm - stock.caliper_mm) <= share * stock.caliper_mm + 1e-9
    ]
    return tuple(sorted(near, key=lambda s: (abs(s.caliper_mm - stock.caliper_mm), s.name)))
