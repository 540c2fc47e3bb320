"""Pages of words and tables that fill one after another, each with its strip of squares."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence

from msgspec import Struct

from publisher.geometry.path import Line as Straight
from publisher.geometry.path import Path
from publisher.templates.arrange import area_of, squares_of
from publisher.templates.canvas import Canvas
from publisher.templates.faces import FaceName, Line, wrapped
from publisher.templates.ink import draw_lines_of_words
from publisher.templates.strip import draw_squares
from publisher.templates.words import block_mm
from publisher.trade import SheetSize

COLUMN = "<</O /Table /Scope /Column>>"
INSET_MM = 4.0
"""Text keeps a little away from the margin, which is narrow."""
GUTTER_MM = 4.0
RULE_MM = 0.18


class Cell(Struct, frozen=True):
    """Lines of one cell."""

    lines: tuple[Line, ...]


class Flow:
    """Where the next thing goes. ``left``, ``right`` and ``bottom`` bound every page."""

    def __init__(self, paper: SheetSize) -> None:
        self.paper = paper
        x0, self.top, x1, self.bottom = area_of(paper, "foot")
        self.left, self.right = x0 + INSET_MM, x1 - INSET_MM
        self.pages: list[Canvas] = []
        self.y = 0.0
        self.page()

    @property
    def canvas(self) -> Canvas:
        return self.pages[-1]

    @property
    def width(self) -> float:
        return self.right - self.left

    def page(self) -> None:
        """Begin a new page."""
        self.pages.append(Canvas(self.paper.width_mm, self.paper.height_mm))
        draw_squares(self.canvas, squares_of(self.paper, "foot"))
        self.y = self.top + INSET_MM

    def room(self, height_mm: float) -> None:
        """A new page where this much is not left on the one at hand."""
        if self.y + height_mm > self.bottom and self.y > self.top + INSET_MM + 0.1:
            self.page()

    def space(self, mm: float) -> None:
        self.y += mm

    def heading(self, text: str, kind: str, size_pt: float, follows_mm: float) -> None:
        """A heading that stays with the ``follows_mm`` after it."""
        lines = wrapped(text, self.width, "title", size_pt)
        self.room(block_mm(lines)[1] + follows_mm)
        self.y = draw_lines_of_words(self.canvas, lines, (self.left, self.y), kind=kind) + 1.6

    def paragraph(
        self,
        text: str,
        size_pt: float = 9.0,
        face: FaceName = "text",
        grey: float = 0.0,
        width_mm: float | None = None,
    ) -> None:
        lines = wrapped(text, width_mm or self.width, face, size_pt)
        self.room(block_mm(lines)[1])
        self.y = draw_lines_of_words(self.canvas, lines, (self.left, self.y), grey) + 1.8

    def table(
        self, heads: Sequence[str], rows: Iterable[Sequence[Sequence[str]]], shares: Sequence[float]
    ) -> None:
        """Rows of cells, each a few paragraphs; ``shares`` divide the width. A row never breaks;
        the heads are said again on every page."""
        widths = [share / sum(shares) * self.width - GUTTER_MM for share in shares]
        head = [
            Cell(tuple(wrapped(text, w, size_pt=8.0)))
            for text, w in zip(heads, widths, strict=True)
        ]
        made = [
            [
                Cell(tuple(line for text in cell for line in wrapped(text, wide, size_pt=9.0)))
                for cell, wide in zip(row, widths, strict=True)
            ]
            for row in rows
        ]
        waiting = made
        while waiting:
            self.room(_high(head) + _high(waiting[0]) + 6.0)
            with self.canvas.element("Table"):
                self._row(head, widths, "TH", 0.3)
                while waiting and self.y + _high(waiting[0]) + 3.0 <= self.bottom:
                    self._rule(RULE_MM * (2 if waiting is made else 1))
                    self._row(waiting[0], widths, "TD", 0.0)
                    waiting = waiting[1:]
        self.space(1.5)

    def _row(self, cells: Sequence[Cell], widths: Sequence[float], kind: str, grey: float) -> None:
        x = self.left
        with self.canvas.element("TR"):
            for cell, width in zip(cells, widths, strict=True):
                draw_lines_of_words(
                    self.canvas,
                    list(cell.lines),
                    (x, self.y),
                    grey,
                    kind,
                    COLUMN if kind == "TH" else "",
                )
                x += width + GUTTER_MM
        self.y += _high(cells) + 1.5

    def _rule(self, width_mm: float) -> None:
        with self.canvas.artifact():
            line = Straight((self.left, self.y), (self.right, self.y))
            self.canvas.stroke([Path((line,), False)], width_mm, grey=0.3)
        self.y += 1.7

    def beside(self, parts: Sequence[tuple[float, float, Callable[[float, float], None]]]) -> None:
        """Things side by side, each with its width, its height, and what draws it at a top
        left corner."""
        self.room(max(high for _, high, _ in parts))
        x = self.left
        for wide, _, draw in parts:
            draw(x, self.y)
            x += wide
        self.y += max(high for _, high, _ in parts)


def _high(cells: Sequence[Cell]) -> float:
    return max((block_mm(cell.lines)[1] for cell in cells if cell.lines), default=0.0)
