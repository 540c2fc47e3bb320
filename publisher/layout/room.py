"""Whether each piece goes on its sheet at all: all that a check needs to know of sheets."""

from __future__ import annotations

import math
from collections.abc import Mapping

from msgspec import Struct

from publisher.diagnostics import Diagnostic, Place, WayOut, nearest
from publisher.model.types import Pattern, Piece
from publisher.trade import SheetSize, Trade
from publisher.units import FirstUnit, both_sizes, one_sizes

UNITS_PER_MM = 1000
TAB_MM = 12.0
"""Width of a tab that is proposed. Common practice, no source."""


class Box(Struct, frozen=True):
    """A copy's bounding box, upright."""

    width_mm: float
    height_mm: float


def units(mm: float) -> int:
    """Rounded up, binary dust forgiven."""
    return math.ceil(mm * UNITS_PER_MM - 1e-3)


def fits(box: Box, width_mm: float, height_mm: float) -> bool:
    """Whether the box fits upright, to a thousandth of a millimetre."""
    return units(box.width_mm) <= units(width_mm) and units(box.height_mm) <= units(height_mm)


def misfits(pattern: Pattern, trade: Trade, sheet_name: str | None = None) -> list[Diagnostic]:
    """A finding for each piece that goes on no sheet, and for each sheet that is not known.

    A stock's pieces go on the sheet that it is sold as, or all on ``sheet_name``.
    """
    if sheet_name is not None and sheet_name not in trade.sheets:
        return [unknown_sheet(pattern, trade, sheet_name)]
    found: list[Diagnostic] = []
    for stock in {piece.stock.name: piece.stock for piece in pattern.pieces}.values():
        size = size_of(trade.sheets, sheet_name or stock.sheet)
        if size is None:
            found.append(unknown_sheet(pattern, trade, stock.sheet))
            continue
        found += [
            too_large(piece, size, trade, pattern)
            for piece in pattern.pieces
            if piece.stock.name == stock.name and way(piece, size) is None
        ]
    return found


def size_of(sheets: Mapping[str, SheetSize], name: str) -> SheetSize | None:
    return sheets.get(name) or sheets.get(name.lower())


def usable(size: SheetSize) -> tuple[float, float]:
    return size.width_mm - 2 * size.margin_mm, size.height_mm - 2 * size.margin_mm


def box_of(piece: Piece, across: bool = False) -> Box:
    x_min, y_min, x_max, y_max = piece.bounds
    width, height = x_max - x_min, y_max - y_min
    return Box(height, width) if across else Box(width, height)


def way(piece: Piece, size: SheetSize) -> bool | None:
    """Whether the piece must lie across to fit; None where it fits neither way."""
    free = usable(size)
    if fits(box_of(piece), *free):
        return False
    if not piece.stock.patterned and fits(box_of(piece, across=True), *free):
        return True
    return None


def too_large(piece: Piece, size: SheetSize, trade: Trade, pattern: Pattern) -> Diagnostic:
    box, (width, height) = box_of(piece), usable(size)
    first = pattern.meta.first_unit
    own = both_sizes((box.width_mm, box.height_mm), first=first)
    free = both_sizes((width, height), first=first)
    ways: list[WayOut] = []
    larger = _nearest_that_does(piece, trade)
    if larger is not None:
        whole = both_sizes((larger.width_mm, larger.height_mm), kind="standard", first=first)
        ways.append(
            WayOut(
                f"a sheet of {larger.title}, {whole}, would do:"
                f" write ‘sheet: {larger.name}’ in the front matter"
            )
        )
    if not piece.divisions:
        ways += _in_two(box, width, height, first)
    notes = []
    if piece.stock.patterned and fits(box_of(piece, across=True), width, height):
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


def _in_two(box: Box, width_mm: float, height_mm: float, first: FirstUnit) -> list[WayOut]:
    """Where the piece might be cut in two, if its halves go on the sheet."""
    lying = box.width_mm >= box.height_mm
    half_mm = max(box.width_mm, box.height_mm) / 2.0
    part = Box(half_mm + TAB_MM, min(box.width_mm, box.height_mm))
    if not (fits(part, width_mm, height_mm) or fits(part, height_mm, width_mm)):
        return []
    half = one_sizes((half_mm,), unit=first)
    tab = one_sizes((TAB_MM,), unit=first)
    where = "right of left" if lying else "below top"
    return [WayOut(f"say where it may be cut in two: divide along {half} {where}, {tab} tab")]


def _nearest_that_does(piece: Piece, trade: Trade) -> SheetSize | None:
    """The sheet of the least area on which the piece fits."""
    able = [size for size in trade.sheets.values() if way(piece, size) is not None]
    return min(able, key=lambda s: (s.width_mm * s.height_mm, s.name), default=None)


def unknown_sheet(pattern: Pattern, trade: Trade, name: str) -> Diagnostic:
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
