"""Figures as blocks of one or two lines, and the room they take."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache

from msgspec import Struct

from publisher.drawing.flat.board import Box
from publisher.drawing.text import ROLE_WEIGHTS, cap_height_mm, descent_mm, text_width_mm
from publisher.drawing.types import Label, LabelRole
from publisher.geometry.path import Point
from publisher.units import FirstUnit, Ruler, both, kind_for, one

SIZE_PT = 8.0
LEADING_MM = 3.35


class Block(Struct, frozen=True):
    """Lines of text, centred above each other, not yet placed."""

    lines: tuple[str, ...]
    role: LabelRole = "dimension"

    @property
    def width_mm(self) -> float:
        return _width_mm(self.lines, ROLE_WEIGHTS[self.role])

    @property
    def height_mm(self) -> float:
        """From the top of the figures of the first line to the baseline of the last."""
        return cap_height_mm(SIZE_PT) + LEADING_MM * (len(self.lines) - 1)

    def box(self, centre: Point) -> Box:
        """The room taken when centred at a point, letters below the baseline included."""
        w, h = self.width_mm / 2, self.height_mm / 2
        return (
            centre[0] - w,
            centre[1] - h - 0.16,
            centre[0] + w,
            centre[1] + h + descent_mm(SIZE_PT),
        )

    def labels(self, centre: Point, id_stem: str) -> list[Label]:
        top = centre[1] - self.height_mm / 2 + cap_height_mm(SIZE_PT)
        return [
            Label(
                text,
                (centre[0], top + LEADING_MM * i),
                SIZE_PT,
                role=self.role,
                id=f"{id_stem}-{i + 1}" if len(self.lines) > 1 else id_stem,
            )
            for i, text in enumerate(self.lines)
        ]


@cache
def _width_mm(lines: tuple[str, ...], weight: int) -> float:
    return max(text_width_mm(line, SIZE_PT, weight) for line in lines)


def with_word(figure: str, word: str) -> str:
    if not word:
        return figure
    return f"{word} {figure}" if word == "radius" else f"{figure} {word}"


def figure_blocks(lengths: Sequence[tuple[float, str]], ruler: Ruler) -> tuple[Block, ...]:
    """The ways to set some lengths, each with its word: on one line, or a line per unit."""
    whole = tuple(with_word(both(mm, kind=kind_for(mm), first=ruler), word) for mm, word in lengths)
    if len(lengths) > 1:
        return (Block(whole),)
    (mm, word) = lengths[0]
    second: FirstUnit = "in" if ruler.first == "mm" else "mm"
    kind = kind_for(mm)
    stacked = (
        with_word(one(mm, kind=kind, unit=ruler.first, ruler=ruler), word),
        one(mm, kind=kind, unit=second, ruler=ruler),
    )
    return (Block(whole), Block(stacked))
