"""Words as outlines: for halos under words, and for pictures that look the same everywhere."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache

import numpy as np
import uharfbuzz as hb
from msgspec import Struct

from publisher.drawing.text import Face
from publisher.geometry.path import Point

FIGURE = "%.10g"
"""How a number is written that was ``rounded`` before: no trailing zeros."""


def rounded(numbers: Sequence[float]) -> tuple[float, ...]:
    """To 0.001, no minus before zero; many at once, as pictures have them by the thousand."""
    return tuple((np.array(numbers).round(3) + 0.0).tolist())


class _Glyph(Struct, frozen=True):
    """An outline: SVG commands with a gap for each number, and the numbers x, y, x, y, ..."""

    commands: str
    numbers: tuple[float, ...]


class _Pen:
    """Takes down an outline as the shaper draws it, in font units, y up."""

    def __init__(self) -> None:
        self.commands: list[str] = []
        self.numbers: list[float] = []

    def _add(self, letter: str, points: Sequence[Point]) -> None:
        self.commands.append(letter + " ".join((FIGURE,) * (2 * len(points))))
        for point in points:
            self.numbers += point

    # The names are those of the shaper's pen protocol.
    def moveTo(self, at: Point) -> None:  # noqa: N802
        self._add("M", (at,))

    def lineTo(self, to: Point) -> None:  # noqa: N802
        self._add("L", (to,))

    def qCurveTo(self, *points: Point) -> None:  # noqa: N802
        self._add("Q", points)

    def curveTo(self, *points: Point) -> None:  # noqa: N802
        self._add("C", points)

    def closePath(self) -> None:  # noqa: N802
        self.commands.append("Z")


@cache
def _glyph(font: hb.Font, glyph: int) -> _Glyph:
    pen = _Pen()
    font.draw_glyph_with_pen(glyph, pen)
    return _Glyph("".join(pen.commands), tuple(pen.numbers))


def outline_data(
    chosen: Face, text: str, em_mm: float, x: float, y: float, anchor: str = "start"
) -> str:
    """The ``d`` of an SVG path with the outlines of the words, their baseline at ``y``.

    ``em_mm`` is the size of the type; ``anchor`` ("start", "middle", "end") says which part of
    the words stands at ``x``. Numbers are rounded to 0.001 mm.
    """
    glyphs = chosen.run(text)
    advances = [chosen.advance(g) * em_mm for g in glyphs]
    x += {"middle": -sum(advances) / 2.0, "end": -sum(advances)}.get(anchor, 0.0)
    scale = em_mm / chosen.units_per_em
    commands: list[str] = []
    numbers: list[float] = []
    for glyph, advance in zip(glyphs, advances, strict=True):
        drawn = _glyph(chosen.font, glyph)
        commands.append(drawn.commands)
        placed = [0.0] * len(drawn.numbers)
        placed[::2] = [x + scale * v for v in drawn.numbers[::2]]
        placed[1::2] = [y - scale * v for v in drawn.numbers[1::2]]
        numbers += placed
        x += advance
    return "".join(commands) % rounded(numbers)
