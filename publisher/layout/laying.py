"""Which piece lies on which sheet: one stock to a sheet, every copy placed."""

from __future__ import annotations

from collections.abc import Sequence

from msgspec import Struct

from publisher.diagnostics import Diagnostic
from publisher.geometry.measure import path_bounds
from publisher.layout.cache import LayoutCache, as_text, content_key, from_text
from publisher.layout.kinds import Room, Sheets
from publisher.layout.nested import Demand, fewer_sheets, fewest_sheets, in_place
from publisher.layout.pack import Spot, pack
from publisher.layout.room import Box, box_of, size_of, too_large, unknown_sheet, usable, way
from publisher.layout.types import Placed, Sheet
from publisher.model.types import Pattern, Piece
from publisher.trade import SheetSize, Stock, Trade

GAP_MM = 2.0
"""Between pieces, so that a knife can go round each. Common practice, no source."""


class _Copy(Struct, frozen=True):
    piece: Piece
    number: int
    box: Box
    laid_across: bool


def lay_out(
    pattern: Pattern,
    trade: Trade,
    sheet_name: str | None = None,
    *,
    copies: int = 1,
    gap_mm: float = GAP_MM,
    nested: bool = True,
    cache: LayoutCache | None = None,
) -> tuple[tuple[Sheet, ...], list[Diagnostic]]:
    """Sheets for all copies of all pieces, stocks in the order in which they are first used.

    A stock's pieces go on the sheet that it is sold as, or all on ``sheet_name``; ``copies``
    is how often the whole pattern is wanted. A patterned stock is never turned, so that its
    pattern stands upright; where the paper has a grain, pieces are turned a quarter only
    where that saves a sheet or makes one fit at all. A piece that fits no way is a finding,
    and is left out.

    Boxes are laid first. Where they take more sheets than must be, and ``nested``, the shapes
    themselves are laid, which may take seconds: ``cache`` keeps what was found.
    """
    sheets: list[Sheet] = []
    found: list[Diagnostic] = []
    if sheet_name is not None and sheet_name not in trade.sheets:
        return (), [unknown_sheet(pattern, trade, sheet_name)]
    stocks = {piece.stock.name: piece.stock for piece in pattern.pieces}
    for stock in stocks.values():
        size = size_of(trade.sheets, sheet_name or stock.sheet)
        if size is None:
            found.append(unknown_sheet(pattern, trade, stock.sheet))
            continue
        wanted: list[_Copy] = []
        for piece in pattern.pieces:
            if piece.stock.name != stock.name:
                continue
            laid_across = way(piece, size)
            if laid_across is None:
                found.append(too_large(piece, size, trade, pattern))
            else:
                wanted += [
                    _Copy(piece, n + 1, box_of(piece, laid_across), laid_across)
                    for n in range(piece.copies * copies)
                ]
        sheets += _filled(stock, size, wanted, gap_mm, nested, cache)
    return tuple(sheets), found


def _filled(
    stock: Stock,
    size: SheetSize,
    copies: Sequence[_Copy],
    gap_mm: float,
    nested: bool,
    cache: LayoutCache | None,
) -> list[Sheet]:
    if not copies:
        return []
    if cache is None or not nested:
        return _named(stock, size, _laid(stock, size, copies, gap_mm, nested))
    key = content_key(
        [(name, group[0].piece.outline, len(group)) for name, group in _groups(copies).items()],
        (size.width_mm, size.height_mm, size.margin_mm, gap_mm),
        (stock.grain, stock.patterned),
    )
    text = cache.get(key)
    laid = from_text(text) if text else None
    if laid is None:
        laid = _laid(stock, size, copies, gap_mm, nested)
        # What one box needs is laid as fast as it is read.
        if len(copies) > 1:
            cache.put(key, as_text(laid))
    return _named(stock, size, laid)


def _groups(copies: Sequence[_Copy]) -> dict[str, list[_Copy]]:
    found: dict[str, list[_Copy]] = {}
    for copy in copies:
        found.setdefault(copy.piece.name, []).append(copy)
    return found


def _laid(
    stock: Stock, size: SheetSize, copies: Sequence[_Copy], gap_mm: float, nested: bool
) -> list[list[Placed]]:
    width, height = usable(size)
    boxes = [copy.box for copy in copies]
    indifferent = stock.grain == "none" and not stock.patterned
    spots = pack(boxes, width, height, gap_mm, may_turn=indifferent)
    if not stock.patterned and _count(spots) > 1:
        turned = pack(boxes, width, height, gap_mm, may_turn=not indifferent)
        if _count(turned) < _count(spots):
            spots = turned
    # One sheet cannot be bettered, and to nest costs the time of many boxes.
    if nested and _count(spots) > 1:
        found = _nested(stock, size, copies, gap_mm, _count(spots))
        if found is not None:
            return found
    laid: list[list[Placed]] = [[] for _ in range(_count(spots))]
    for copy, spot in zip(copies, spots, strict=True):
        turn = 90.0 if copy.laid_across != spot.turned else 0.0
        laid[spot.sheet].append(_placed(copy, size, spot.x_mm, spot.y_mm, turn))
    return laid


def _nested(
    stock: Stock, size: SheetSize, copies: Sequence[_Copy], gap_mm: float, fewer_than: int
) -> list[list[Placed]] | None:
    """The shapes on fewer sheets, the grain kept if that goes; None where there is no way."""
    first = _groups(copies)
    room = Room(*usable(size), gap_mm)
    found: Sheets | None = None
    best = fewer_than
    demands = [
        [
            Demand(
                group[0].piece.outline, _turns(stock, group[0].laid_across, keep_grain), len(group)
            )
            for group in first.values()
        ]
        for keep_grain in (True, False)
    ]
    # What cannot be bettered in any turn cannot be in few: asked once, the looser way.
    if fewest_sheets(demands[1], room) >= fewer_than:
        return None
    for asked in demands:
        sheets = fewer_sheets(asked, room, best)
        if sheets is not None:
            found, best = sheets, len(sheets)
        if stock.patterned or stock.grain == "none":
            break
    if found is None:
        return None
    waiting = [iter(group) for group in first.values()]
    laid: list[list[Placed]] = []
    for sheet in found:
        laid.append([])
        for put in sorted(sheet, key=lambda p: (p.kind, p.y_mm, p.x_mm)):
            copy = next(waiting[put.kind])
            box = path_bounds(in_place(copy.piece.outline.outer, put))
            laid[-1].append(_placed(copy, size, box[0], box[1], put.turn_deg))
    return laid


def _turns(stock: Stock, across: bool, keep_grain: bool) -> tuple[float, ...]:
    if stock.patterned:
        return (0.0,)
    if keep_grain and stock.grain != "none":
        return (90.0, 270.0) if across else (0.0, 180.0)
    return (0.0, 90.0, 180.0, 270.0)


def _placed(copy: _Copy, size: SheetSize, x: float, y: float, turn: float) -> Placed:
    margin = size.margin_mm
    return Placed(
        copy.piece.name, copy.number, round(margin + x, 6), round(margin + y, 6), turn_deg=turn
    )


def _named(stock: Stock, size: SheetSize, laid: Sequence[Sequence[Placed]]) -> list[Sheet]:
    slug = stock.name.replace(" ", "-")
    return [
        Sheet(f"{slug}-{number + 1}", stock, size, tuple(placed))
        for number, placed in enumerate(laid)
    ]


def _count(spots: Sequence[Spot]) -> int:
    return 1 + max(spot.sheet for spot in spots)
