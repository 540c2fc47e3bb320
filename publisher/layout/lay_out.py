"""Which piece lies on which sheet: one stock to a sheet, every copy placed."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from publisher.diagnostics import Diagnostic, Place, WayOut, nearest
from publisher.layout.pack import Box, Spot, fits, pack
from publisher.layout.types import Placed, Sheet
from publisher.model.types import Pattern, Piece
from publisher.trade import SheetSize, Stock, Trade
from publisher.units import both_sizes

GAP_MM = 2.0
"""Between pieces, so that a knife can go round each. Common practice, no source."""


@dataclass(frozen=True, slots=True)
class _Copy:
    piece: Piece
    number: int
    box: Box
    laid_across: bool


def lay_out(
    pattern: Pattern, trade: Trade, sheet_name: str | None = None
) -> tuple[tuple[Sheet, ...], list[Diagnostic]]:
    """Sheets for all copies of all pieces, stocks in the order in which they are first used.

    A stock's pieces go on the sheet that it is sold as, or all on ``sheet_name``. A patterned
    stock is never turned, so that its pattern stands upright; where the paper has a grain,
    pieces are turned only where that saves a sheet or makes one fit at all. A piece that fits
    no way is a finding, and is left out.
    """
    sheets: list[Sheet] = []
    found: list[Diagnostic] = []
    if sheet_name is not None and sheet_name not in trade.sheets:
        return (), [_unknown_sheet(pattern, trade, sheet_name)]
    stocks = {piece.stock.name: piece.stock for piece in pattern.pieces}
    for stock in stocks.values():
        size = _size_of(trade.sheets, sheet_name or stock.sheet)
        if size is None:
            found.append(_unknown_sheet(pattern, trade, stock.sheet))
            continue
        copies: list[_Copy] = []
        for piece in pattern.pieces:
            if piece.stock.name != stock.name:
                continue
            laid_across = _way(piece, size)
            if laid_across is None:
                found.append(_too_large(piece, size, trade, pattern))
            else:
                copies += [
                    _Copy(piece, n + 1, _box(piece, laid_across), laid_across)
                    for n in range(piece.copies)
                ]
        sheets += _filled(stock, size, copies)
    return tuple(sheets), found


def _size_of(sheets: Mapping[str, SheetSize], name: str) -> SheetSize | None:
    return sheets.get(name) or sheets.get(name.lower())


def _usable(size: SheetSize) -> tuple[float, float]:
    return size.width_mm - 2 * size.margin_mm, size.height_mm - 2 * size.margin_mm


def _box(piece: Piece, across: bool = False) -> Box:
    x_min, y_min, x_max, y_max = piece.bounds
    width, height = x_max - x_min, y_max - y_min
    return Box(height, width) if across else Box(width, height)


def _way(piece: Piece, size: SheetSize) -> bool | None:
    """Whether the piece must lie across to fit; None where it fits neither way."""
    usable = _usable(size)
    if fits(_box(piece), *usable):
        return False
    if not piece.stock.patterned and fits(_box(piece, across=True), *usable):
        return True
    return None


def _filled(stock: Stock, size: SheetSize, copies: Sequence[_Copy]) -> list[Sheet]:
    if not copies:
        return []
    width, height = _usable(size)
    boxes = [copy.box for copy in copies]
    indifferent = stock.grain == "none" and not stock.patterned
    spots = pack(boxes, width, height, GAP_MM, may_turn=indifferent)
    if not indifferent and not stock.patterned and _count(spots) > 1:
        turned = pack(boxes, width, height, GAP_MM, may_turn=True)
        if _count(turned) < _count(spots):
            spots = turned
    slug = stock.name.replace(" ", "-")
    sheets = []
    for number in range(_count(spots)):
        placed = tuple(
            Placed(
                piece=copy.piece.name,
                copy=copy.number,
                x_mm=round(size.margin_mm + spot.x_mm, 6),
                y_mm=round(size.margin_mm + spot.y_mm, 6),
                turn_deg=90.0 if copy.laid_across != spot.turned else 0.0,
            )
            for copy, spot in zip(copies, spots, strict=True)
            if spot.sheet == number
        )
        sheets.append(Sheet(f"{slug}-{number + 1}", stock, size, placed))
    return sheets


def _count(spots: Sequence[Spot]) -> int:
    return 1 + max(spot.sheet for spot in spots)


# ---------------------------------------------------------------- findings


def _too_large(piece: Piece, size: SheetSize, trade: Trade, pattern: Pattern) -> Diagnostic:
    box, (width, height) = _box(piece), _usable(size)
    first = pattern.meta.first_unit
    own = both_sizes((box.width_mm, box.height_mm), first=first)
    free = both_sizes((width, height), first=first)
    ways: list[WayOut] = []
    larger = _nearest_that_does(piece, trade)
    if larger is not None:
        whole = both_sizes((larger.width_mm, larger.height_mm), kind="standard", first=first)
        ways.append(WayOut(f"a sheet of {larger.title}, {whole}, would do"))
    notes = []
    if piece.stock.patterned and fits(_box(piece, across=True), width, height):
        notes.append(
            f"It would fit lying across, but {piece.stock.name} is patterned and is not turned."
        )
    return Diagnostic(
        code="piece-larger-than-sheet",
        severity="error",
        message=f"{piece.name} is {own} and goes on no sheet of {size.title}: {free} is free",
        places=(Place(piece.span),),
        numbers=(
            ("width_mm", box.width_mm),
            ("height_mm", box.height_mm),
            ("free_width_mm", width),
            ("free_height_mm", height),
        ),
        notes=tuple(notes),
        ways_out=tuple(ways),
    )


def _nearest_that_does(piece: Piece, trade: Trade) -> SheetSize | None:
    """The sheet of the least area on which the piece fits."""
    able = [size for size in trade.sheets.values() if _way(piece, size) is not None]
    return min(able, key=lambda s: (s.width_mm * s.height_mm, s.name), default=None)


def _unknown_sheet(pattern: Pattern, trade: Trade, name: str) -> Diagnostic:
    near = nearest(name, trade.sheets)
    ways = (WayOut(f"write ‘{near}’"),) if near else ()
    return Diagnostic(
        code="sheet-unknown",
        severity="error",
        message=f"there is no sheet ‘{name}’",
        places=tuple(Place(piece.span) for piece in pattern.pieces[:1]),
        notes=("The sheets are " + ", ".join(trade.sheets) + ".",),
        ways_out=ways,
    )
