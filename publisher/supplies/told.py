"""Supplies as plain data, and in a maker's words."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from publisher.layout.types import Sheet
from publisher.model.types import Pattern
from publisher.supplies.offcuts import offcuts
from publisher.supplies.quantities import TIMES, batches, substitutes, supplies
from publisher.supplies.types import Cost, Offcut, Supplies
from publisher.trade import Cutting, Stock, Trade
from publisher.units import MM_PER_INCH, FirstUnit, both_sizes, number

Json = dict[str, Any]


def as_data(needed: Supplies) -> Json:
    """For programs: lengths in mm, areas in mm2."""
    return {
        "times": needed.times,
        "sheets": [
            {
                "stock": use.stock.name,
                "sheet": use.size.name,
                "count": use.count,
                "share_used": round(use.share, 4),
            }
            for use in needed.sheets
        ],
        "glue_area_mm2": round(needed.glue_mm2, 2),
        "glue_length_mm": round(needed.line_mm, 2),
    }


def all_data(pattern: Pattern, sheets: Sequence[Sheet], trade: Trade, cutting: Cutting) -> Json:
    """Everything but the cost: these sheets, a batch, rests, and papers that do as well."""
    own = supplies(pattern, sheets, cutting.copies or 1)
    # To lay fifty takes longer than all else here: that is for those who ask.
    more = [number for number in TIMES[:2] if number != own.times]
    stocks = {piece.stock.name: piece.stock for piece in pattern.pieces}
    return {
        "batches": [as_data(n) for n in (own, *batches(pattern, trade, cutting, more))],
        "offcuts": [offcut_data(rest) for rest in offcuts(pattern, sheets, trade)],
        "substitutes": {
            name: [other.name for other in substitutes(stock, trade)]
            for name, stock in stocks.items()
        },
    }


def offcut_data(offcut: Offcut) -> Json:
    return {
        "sheet": offcut.sheet,
        "stock": offcut.stock,
        "width_mm": round(offcut.width_mm, 4),
        "height_mm": round(offcut.height_mm, 4),
        "pieces": list(offcut.pieces),
        "thing": offcut.thing,
    }


def cost_data(cost: Cost) -> Json:
    return {
        "currency": cost.currency,
        "lines": [
            {
                "what": line.what,
                "quantity": round(line.quantity, 4),
                "per": line.per,
                "amount": round(line.amount, 4),
            }
            for line in cost.lines
        ],
        "total": round(cost.total, 4),
        "each": round(cost.each, 4),
        "unpriced": list(cost.unpriced),
    }


def lines_of(pattern: Pattern, needed: Supplies) -> Iterator[str]:
    """``Card, A4: 2 sheets, 57 % of them used`` and so on."""
    for use in needed.sheets:
        sheets = "1 sheet" if use.count == 1 else f"{use.count} sheets"
        used = "it" if use.count == 1 else "them"
        share = number(use.share * 100, 0)
        yield f"{use.stock.title}, {use.size.title}: {sheets}, {share} % of {used} used"
    if needed.glue_mm2 > 0.0:
        said = area_words(needed.glue_mm2, pattern.meta.first_unit)
        if needed.line_mm > 0.0:
            said += f", {length_words(needed.line_mm, pattern.meta.first_unit)} of lines"
        yield f"Glue for {said}"


def area_words(square_mm: float, first: FirstUnit) -> str:
    """Rounded up to the next 5 cm² and the next square inch: glue is not dosed."""
    metric = f"{5 * -int(-square_mm // 500.0)} cm²"
    inches = f"{-int(-square_mm // MM_PER_INCH**2)} sq in"
    one, other = (metric, inches) if first == "mm" else (inches, metric)
    return f"{one} ({other})"


def length_words(mm: float, first: FirstUnit) -> str:
    """Rounded up to the next 5 cm and the next inch."""
    metric = f"{5 * -int(-mm // 50.0)} cm"
    inches = f"{-int(-mm // MM_PER_INCH)} in"
    one, other = (metric, inches) if first == "mm" else (inches, metric)
    return f"{one} ({other})"


def offcut_words(offcut: Offcut, first: FirstUnit) -> str:
    """``210 × 169 mm (8 1/4 × 6 5/8 in) of card-1: enough for drawer``."""
    size = both_sizes((offcut.width_mm, offcut.height_mm), first=first)
    uses = [f"another {piece}" for piece in offcut.pieces]
    if offcut.thing:
        uses.append(f"“{offcut.thing}”")
    return f"{size} of {offcut.sheet}: enough for {' or '.join(uses)}"


def substitute_words(stocks: Sequence[Stock]) -> str:
    """``Cover, 110 lb will do too``; "" for none."""
    if not stocks:
        return ""
    return f"{' or '.join(stock.title.lower() for stock in stocks)} will do too"


def cost_lines(cost: Cost) -> Iterator[str]:
    """Each line and the sum, to two decimals."""
    money = f" {cost.currency}" if cost.currency else ""
    for line in cost.lines:
        per = {"100 cm2": "× 100 cm²"}.get(line.per, line.per)
        many = "s" if line.per in ("sheet", "hour") and line.quantity != 1.0 else ""
        yield f"{line.what}: {number(line.quantity, 2)} {per}{many}, {line.amount:.2f}{money}"
    if cost.lines:
        each = f", {cost.each:.2f} each" if cost.times > 1 else ""
        yield f"In all: {cost.total:.2f}{money}{each}"
    if cost.unpriced:
        yield f"Without a price: {'; '.join(cost.unpriced)}"
