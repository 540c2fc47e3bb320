"""The first page of the templates: how to print, which piece is where, what to take care of."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from publisher.geometry.path import polygon
from publisher.model.types import Pattern
from publisher.templates.canvas import Canvas, rectangle
from publisher.templates.faces import Line, shaped, wrapped
from publisher.templates.flow import Flow
from publisher.templates.ink import draw_lines_of_words
from publisher.templates.types import Warned
from publisher.templates.words import blank_mm, block_mm
from publisher.units import FirstUnit, one_sizes

HOW = (
    "Every piece of the pattern is here in true size, to be cut with a knife. Print the pages at "
    "actual size, 100\u00a0%, and measure the two squares at the foot before you cut good paper: "
    "one is 50\u00a0mm, the other 2\u00a0in each way. If they are not, your printer shrinks the "
    "page."
)
SIGN_MM = 6.0
COLUMNS_MM = 8.0
UNITS: dict[FirstUnit, str] = {"mm": "Across and down, mm", "in": "Across and down, inches"}


def draw_front(
    flow: Flow, pattern: Pattern, where: Mapping[str, str], warned: Sequence[Warned]
) -> None:
    """``where`` says on which pages each piece is."""
    flow.heading(pattern.meta.title, "H1", 24.0, 20.0)
    flow.paragraph("Templates in true size", 13.0)
    flow.space(1.5)
    flow.paragraph(HOW, width_mm=min(flow.width, 150.0))
    flow.space(2.0)
    flow.heading("The pieces", "H2", 14.0, 20.0)
    ruler, first = pattern.meta.ruler, pattern.meta.first_unit
    second: FirstUnit = "in" if first == "mm" else "mm"
    rows = []
    for piece in pattern.pieces:
        size = blank_mm(piece)
        rows.append(
            [
                [piece.name],
                [str(piece.copies)],
                [piece.stock.title],
                [one_sizes(size, unit=first, ruler=ruler).removesuffix(f" {first}")],
                [one_sizes(size, unit=second, ruler=ruler).removesuffix(f" {second}")],
                [where[piece.name]],
            ]
        )
    heads = ("Piece", "Cut", "From", UNITS[first], UNITS[second], "On page")
    flow.table(heads, rows, (3.0, 0.8, 3.0, 2.4, 2.8, 1.6))
    if warned:
        flow.space(2.0)
        flow.heading("Take care", "H2", 14.0, 30.0)
        _cautions(flow, warned)


def _cautions(flow: Flow, warned: Sequence[Warned]) -> None:
    """In two columns, read down the first and then down the second. Told by word and shape: a
    triangle for an injury, a square for damage to things."""
    column = (flow.width - COLUMNS_MM) / 2
    indent = SIGN_MM + 3.0
    made = [
        [
            shaped(one.signal.upper(), "strong", 8.0),
            *wrapped(f"{one.hazard} {one.avoid}", column - indent, size_pt=8.5),
        ]
        for one in warned
    ]
    told = list(zip(warned, made, strict=True))

    def high(side: list[tuple[Warned, list[Line]]]) -> float:
        return sum(block_mm(lines)[1] + 3.0 for _, lines in side)

    half = min(range(len(told) + 1), key=lambda n: max(high(told[:n]), high(told[n:])))
    sides = [told[:half], told[half:]]
    flow.room(max(high(side) for side in sides))
    ends = []
    for number, side in enumerate(sides):
        x, y = flow.left + number * (column + COLUMNS_MM), flow.y
        for one, lines in side:
            with flow.canvas.artifact():
                _sign(flow.canvas, one.signal, x, y)
            y = draw_lines_of_words(flow.canvas, lines, (x + indent, y)) + 3.0
        ends.append(y)
    flow.y = max(ends)


def _sign(canvas: Canvas, signal: str, x: float, y: float) -> None:
    side = SIGN_MM
    middle = x + side / 2
    if signal == "notice":
        canvas.stroke([rectangle((x, y, x + side, y + side))], 0.35)
        canvas.words("i", (middle, y + 4.3), "strong", 10.0, "middle")
    else:
        top, foot = y, y + side * 0.9
        canvas.stroke([polygon([(middle, top), (x + side, foot), (x, foot)])], 0.35)
        canvas.words("!", (middle, foot - 0.8), "strong", 9.0, "middle")
