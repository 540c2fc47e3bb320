"""The cutting table of a pattern."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence

from msgspec.structs import replace

from publisher.checks.rulers import Chosen, as_ruled, printed
from publisher.layout.types import Sheet
from publisher.model.types import Pattern, Piece
from publisher.trade import Practice, SheetSize, Stock, Trade
from publisher.trimmer.guillotine import Board, Rect, boards, strokes_of
from publisher.trimmer.marks import is_straight, row_of, step_mm
from publisher.trimmer.types import Cut, CutSheet, CuttingTable, Part, Plan, Row
from publisher.units import FirstUnit


def cutting_table(pattern: Pattern, sheets: Sequence[Sheet], trade: Trade) -> CuttingTable:
    """What a trimmer and a scoring board are set to, for the pieces that have no curves, and
    how to cut their blanks from the sheets. Raises KeyError where the trade's practice says
    nothing of rulers."""
    first = pattern.meta.first_unit
    units: tuple[FirstUnit, FirstUnit] = (first, "in" if first == "mm" else "mm")
    straight = [piece for piece in pattern.pieces if is_straight(piece)]
    practice = _finer(pattern, trade.practice)
    rows = tuple(_row(piece, units, practice, pattern.meta.chosen) for piece in straight)
    sizes = {sheet.stock.name: sheet.size for sheet in sheets}
    plans: list[Plan] = []
    for stock in {row.stock.name: row.stock for row in rows}.values():
        if stock.name not in sizes:
            continue
        own = [row for row in rows if row.stock.name == stock.name]
        made = [plan_of(stock, sizes[stock.name], own, unit, practice) for unit in units]
        plans += [plan for plan in made if plan.sheets]
    others = tuple(piece.name for piece in pattern.pieces if not is_straight(piece))
    return CuttingTable(rows, tuple(plans), others)


def _row(
    piece: Piece, units: tuple[FirstUnit, ...], practice: Mapping[str, Practice], chosen: Chosen
) -> Row:
    """The piece's line. The figures of the board are those of the booklet, panel for panel: one
    length is printed as one figure, whoever reads it."""
    made = (
        row_of(as_ruled(piece, printed((piece,), unit, chosen)), (unit,), practice, piece)
        for unit in units
    )
    first, *others = made
    return replace(first, figures=(*first.figures, *(f for row in others for f in row.figures)))


def _finer(pattern: Pattern, practice: Mapping[str, Practice]) -> Mapping[str, Practice]:
    """Half the inch marks where a length is printed on the finer side of the ruler."""
    mark = practice["ruler_mark_inch_mm"]
    lengths = [mm for unit, _, mm in pattern.meta.chosen if unit == "in"]
    if all(abs(mm / mark.value - round(mm / mark.value)) < 1e-3 for mm in lengths):
        return practice
    return {**practice, "ruler_mark_inch_mm": replace(mark, value=mark.value / 2)}


def plan_of(
    stock: Stock,
    size: SheetSize,
    rows: Sequence[Row],
    unit: FirstUnit,
    practice: Mapping[str, Practice],
) -> Plan:
    """Blanks of one stock on its sheets, every cut on a mark of the unit's ruler.

    A trimmer cuts along the edge of the sheet itself, so there is no margin and no gap. Where
    the paper has a grain blanks are turned only where that saves a sheet; patterned paper is
    never turned. A blank that fits no sheet is left out.
    """
    step = step_mm(unit, practice)
    width, height = (_marks_within(mm, step) for mm in (size.width_mm, size.height_mm))
    names, blanks = [], []
    for row in rows:
        figures = next(f for f in row.figures if f.unit == unit)
        wide, high = round(figures.width_mm / step), round(figures.height_mm / step)
        upright = wide <= width and high <= height
        across = high <= width and wide <= height and not stock.patterned
        if upright or across:
            names += [row.piece] * row.copies
            blanks += [(wide, high) if upright else (high, wide)] * row.copies
    if not blanks:
        return Plan(stock, size, unit, ())
    found = boards(blanks, width, height, may_turn=stock.grain == "none" and not stock.patterned)
    if len(found) > 1 and not stock.patterned:
        turned = boards(blanks, width, height, may_turn=True)
        if 0 < len(turned) < len(found):
            found = turned
    made = [_sheet(board, names, size, step) for board in found]
    return Plan(stock, size, unit, tuple(_alike(made)))


def _marks_within(mm: float, step: float) -> int:
    return math.floor(mm / step + 1e-6)


def _sheet(board: Board, names: Sequence[str], size: SheetSize, step: float) -> CutSheet:
    width, height = (_marks_within(mm, step) for mm in (size.width_mm, size.height_mm))
    strokes, rests = strokes_of(board, width, height)

    def part(rect: Rect, piece: str) -> Part:
        # What reaches the far edges takes the hair beyond the last mark along.
        right, bottom = (rect.x + rect.width) * step, (rect.y + rect.height) * step
        if rect.x + rect.width == width and not piece:
            right = size.width_mm
        if rect.y + rect.height == height and not piece:
            bottom = size.height_mm
        return Part(
            piece, rect.x * step, rect.y * step, right - rect.x * step, bottom - rect.y * step
        )

    cuts = []
    for number, stroke in enumerate(strokes, 1):
        whole = part(stroke.part, "")
        at = stroke.at * step
        x = whole.x_mm + (at if stroke.upright else 0.0)
        y = whole.y_mm + (0.0 if stroke.upright else at)
        length = whole.height_mm if stroke.upright else whole.width_mm
        cuts.append(Cut(number, stroke.upright, at, x, y, length))
    blanks = tuple(part(rect, names[rect.number]) for rect in board)
    return CutSheet(1, blanks, tuple(part(rest, "") for rest in rests), tuple(cuts))


def _alike(sheets: Sequence[CutSheet]) -> Iterator[CutSheet]:
    """Sheets that are cut alike, once and counted."""
    counts: dict[CutSheet, int] = {}
    for sheet in sheets:
        counts[sheet] = counts.get(sheet, 0) + 1
    for sheet, count in counts.items():
        yield CutSheet(count, sheet.blanks, sheet.left, sheet.cuts)
