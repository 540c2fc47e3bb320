"""The cutting table as it is printed: figures for trimmer and board, and the sheets drawn."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from publisher.geometry.path import Line, Path
from publisher.templates.canvas import Canvas, rectangle
from publisher.templates.faces import wrapped
from publisher.templates.flow import Flow
from publisher.templates.ink import draw_lines_of_words
from publisher.templates.words import block_mm
from publisher.trimmer import CuttingTable
from publisher.trimmer.types import Cut, CutSheet, Figures, Part, Plan, Row, ScoreMark
from publisher.units import MM_PER_INCH, FirstUnit, on_the_mark, one, one_sizes

LEAD = (
    "For a trimmer and a scoring board. Every figure is the booklet's, halves of a millimetre "
    "or sixteenths of an inch, and a blank is as large as its panels make it, one after the "
    "other. Go by one unit from beginning to end, and lay each piece with its front face up."
)
TRIM = "Then cut away by the template what lies outside its lines."
UNITS = {"mm": "In millimetres", "in": "In inches"}
DRAWN_MM = (44.0, 50.0)
"""The room of a drawn sheet."""
SCALES = (2, 2.5, 3, 4, 5, 6, 7.5, 10, 15, 20)


def _finer(table: CuttingTable) -> bool:
    """Whether an inch figure lies on the finer side of the ruler."""
    marks = (
        mm / MM_PER_INCH * 16
        for row in table.rows
        for f in row.figures
        if f.unit == "in"
        for mm in (f.width_mm, f.height_mm, *(s.at_mm for s in (*f.across, *f.down)))
    )
    return any(abs(mark - round(mark)) > 1e-3 for mark in marks)


def draw_cutting(flow: Flow, table: CuttingTable) -> None:
    """The table, then how the sheets are cut; nothing where no piece is straight."""
    if not table.rows:
        return
    flow.space(3.0)
    flow.heading("Cutting table", "H2", 14.0, 40.0)
    lead = LEAD.replace("sixteenths", "thirty-seconds") if _finer(table) else LEAD
    flow.paragraph(lead, width_mm=min(flow.width, 150.0))
    if table.others:
        flow.paragraph(
            f"Not here, since they have curves: {', '.join(table.others)}.", width_mm=150.0
        )
    rows = [_row(row) for row in table.rows]
    heads = ("Piece", "Cut", "Score, from the left edge", "Score, from the top edge")
    flow.table(heads, rows, (2.0, 2.2, 3.0, 3.2))
    for row in table.rows:
        for text in _notes(row):
            flow.paragraph(text, 8.5)
    for plans in _by_stock(table.plans):
        _draw_plans(flow, plans)


# ---------------------------------------------------------------- figures


def _row(row: Row) -> list[list[str]]:
    piece = [row.piece]
    if row.copies > 1:
        piece.append(f"{row.copies} of them")
    cut = [
        one_sizes(size, unit=f.unit, ruler=on_the_mark(f.unit, *size))
        for f in row.figures
        for size in ((f.width_mm, f.height_mm),)
    ]
    across = [score_words(f.across, f.unit) for f in row.figures if f.across]
    down = [score_words(f.down, f.unit) for f in row.figures if f.down]
    return [piece, cut, across or ["none"], down or ["none"]]


def _notes(row: Row) -> list[str]:
    """What the table cannot hold: rounded distances, and what is left to the knife."""
    said = [text for figures in row.figures for text in deviation_words(figures)]
    if row.slanted:
        lines = "1 slanted score" if row.slanted == 1 else f"{row.slanted} slanted scores"
        said.append(f"{lines}: by the template.")
    if row.trimmed:
        said.append(TRIM)
    return [f"{row.piece}: {' '.join(said)}"] if said else []


def score_words(marks: Sequence[ScoreMark], unit: FirstUnit) -> str:
    """``2 1/2, 6 1/4, 6 3/8 in``; those that run over a part of the blank only say from
    where to where."""
    groups: dict[tuple[float | None, float | None], list[ScoreMark]] = {}
    for mark in marks:
        groups.setdefault((mark.start_mm, mark.end_mm), []).append(mark)
    said = []
    for (start, end), own in groups.items():
        figures = ", ".join(_bare(mark.at_mm, unit) for mark in own)
        text = f"{figures} {unit}"
        if start is not None and end is not None:
            text += f", from {_bare(start, unit)} to {_bare(end, unit)}"
        said.append(text)
    return "; ".join(said)


def deviation_words(figures: Figures) -> list[str]:
    """What rounding does to the distances between scores, the same of several said once."""
    groups: dict[tuple[int, str], list[str]] = {}
    for deviation in figures.deviations:
        off = round(deviation.off_mm * 100)
        first, second = (
            _bare(mm, figures.unit) for mm in (deviation.first_mm, deviation.second_mm)
        )
        group = groups.setdefault((abs(off), "more" if off > 0 else "less"), [])
        group.append(f"{first} to {second}")
    if not groups:
        return []
    said = [
        f"{', '.join(ends)} {'is' if len(ends) == 1 else 'are'} {off / 100:g} mm {word}"
        for (off, word), ends in groups.items()
    ]
    return [f"{UNITS[figures.unit]}, {'; '.join(said)} than designed."]


def _bare(mm: float, unit: FirstUnit) -> str:
    return _marked(mm, unit).removesuffix(f" {unit}")


def _marked(mm: float, unit: FirstUnit) -> str:
    return one(mm, unit=unit, ruler=on_the_mark(unit, mm))


# ---------------------------------------------------------------- sheets


def _by_stock(plans: Iterable[Plan]) -> list[list[Plan]]:
    found: dict[str, list[Plan]] = {}
    for plan in plans:
        found.setdefault(plan.stock.name, []).append(plan)
    return list(found.values())


def _draw_plans(flow: Flow, plans: Sequence[Plan]) -> None:
    """One drawing where both units are cut alike, else one for each."""
    first = plans[0]
    merged = len(plans) > 1 and _shape(plans[0]) == _shape(plans[1])
    flow.space(2.5)
    title = f"Cut the sheets: {first.stock.title.lower()}, {first.size.title}"
    flow.heading(title, "H3", 11.0, first.size.height_mm / _scale(first) + 2.0)
    for plan in plans[:1] if merged else plans:
        for index, sheet in enumerate(plan.sheets):
            other = plans[1].sheets[index] if merged else None
            words = sheet_words(plan, sheet, None if other is None else (plans[1].unit, other))
            if not merged:
                words.insert(0, f"{UNITS[plan.unit]}:")
            _draw_sheet(flow, plan, sheet, words)


def _shape(plan: Plan) -> list[object]:
    return [
        (sheet.count, [c.upright for c in sheet.cuts], [b.piece for b in sheet.blanks])
        for sheet in plan.sheets
    ]


def sheet_words(plan: Plan, sheet: CutSheet, other: tuple[FirstUnit, CutSheet] | None) -> list[str]:
    """The cuts in their order and what is left over."""
    said = []
    if sheet.count > 1:
        said.append(f"{sheet.count} sheets are cut like this.")
    twins: Sequence[Cut | None] = other[1].cuts if other else [None] * len(sheet.cuts)
    for cut, twin in zip(sheet.cuts, twins, strict=True):
        way = "down" if cut.upright else "across"
        edge = "left" if cut.upright else "top"
        text = f"Cut {cut.number}: {way}, {_marked(cut.at_mm, plan.unit)}"
        if twin is not None and other is not None:
            text += f" ({_marked(twin.at_mm, other[0])})"
        said.append(f"{text} from the {edge} edge")
    if sheet.left:
        largest = max(sheet.left, key=lambda p: p.width_mm * p.height_mm)
        size = one_sizes((largest.width_mm, largest.height_mm), unit=plan.unit)
        said.append(f"Left over in one piece: {size}")
    return said


def _draw_sheet(flow: Flow, plan: Plan, sheet: CutSheet, words: Sequence[str]) -> None:
    size = plan.size
    scale = next(
        (
            s
            for s in SCALES
            if size.width_mm / s <= DRAWN_MM[0] and size.height_mm / s <= DRAWN_MM[1]
        ),
        SCALES[-1],
    )
    wide, high = size.width_mm / scale, size.height_mm / scale
    lines = [wrapped(text, flow.width - wide - 8.0) for text in words]
    needed = sum(block_mm(part)[1] + 1.6 for part in lines)

    def draw_map(x: float, y: float) -> None:
        _map(flow.canvas, plan, sheet, (x, y), scale)

    def draw_words(x: float, y: float) -> None:
        for part in lines:
            y = draw_lines_of_words(flow.canvas, part, (x + 8.0, y)) + 1.6

    flow.beside([(wide, high, draw_map), (flow.width - wide, needed, draw_words)])
    flow.space(4.0)


def _scale(plan: Plan) -> float:
    least = max(plan.size.width_mm / DRAWN_MM[0], plan.size.height_mm / DRAWN_MM[1])
    return next((s for s in SCALES if s >= least), SCALES[-1])


def _map(
    canvas: Canvas, plan: Plan, sheet: CutSheet, at: tuple[float, float], scale: float
) -> None:
    def box(part: Part) -> tuple[float, float, float, float]:
        x, y = at[0] + part.x_mm / scale, at[1] + part.y_mm / scale
        return (x, y, x + part.width_mm / scale, y + part.height_mm / scale)

    size = plan.size
    whole = Part("", 0.0, 0.0, size.width_mm, size.height_mm)
    pieces = ", ".join(part.piece for part in sheet.blanks)
    alt = f"A sheet of {size.title} with {pieces}; {len(sheet.cuts)} cuts, each from edge to edge"
    with canvas.tagged("Figure", alt, box(whole)):
        canvas.fill([rectangle(box(part)) for part in sheet.left], grey=0.9)
        canvas.stroke([rectangle(box(whole))], 0.35)
        for cut in sheet.cuts:
            canvas.stroke([_line(cut, at, scale)], 0.25)
    for part in sheet.blanks:
        x0, y0, x1, y1 = box(part)
        lines = wrapped(part.piece, x1 - x0 - 2.0, "text", 8.0)
        wide, high = block_mm(lines)
        if wide <= x1 - x0 - 1.0 and high <= y1 - y0 - 1.0:
            top = (y0 + y1 - high) / 2
            draw_lines_of_words(canvas, lines, ((x0 + x1 - wide) / 2, top))
    for cut in sheet.cuts:
        _badge(canvas, cut, at, scale)


def _line(cut: Cut, at: tuple[float, float], scale: float) -> Path:
    x, y = at[0] + cut.x_mm / scale, at[1] + cut.y_mm / scale
    length = cut.length_mm / scale
    end = (x, y + length) if cut.upright else (x + length, y)
    return Path((Line((x, y), end),), False)


def _badge(canvas: Canvas, cut: Cut, at: tuple[float, float], scale: float) -> None:
    """The cut's number on its line, on white."""
    line = _line(cut, at, scale)
    share = 0.5 if cut.number % 2 else 0.62
    x = line.start[0] + share * (line.end[0] - line.start[0])
    y = line.start[1] + share * (line.end[1] - line.start[1])
    with canvas.tagged("P"):
        canvas.fill([rectangle((x - 1.9, y - 1.9, x + 1.9, y + 1.9))], grey=1.0)
        canvas.words(str(cut.number), (x, y + 1.0), "strong", 8.0, "middle")
