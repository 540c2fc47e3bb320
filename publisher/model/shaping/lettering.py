"""Words as outlines from a font file, in mm."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import lru_cache
from typing import TYPE_CHECKING

from msgspec import Struct

from publisher.geometry.drawn import Command, rings_of
from publisher.geometry.filled import filled
from publisher.geometry.measure import path_bounds
from publisher.geometry.path import Path, Point, Region

if TYPE_CHECKING:
    import uharfbuzz as hb

MOST_LETTERS = 80
"""More than anybody cuts in one line."""

_TINY = 1e-9


class Lettering(Struct, frozen=True):
    """Words whose baseline is y = 0, y down; ``width_mm`` is that of the ink."""

    regions: tuple[Region, ...]
    left_mm: float
    width_mm: float
    cap_mm: float


class NoFontError(ValueError):
    """The bytes are no font, or one without capitals."""


class NoLetterError(ValueError):
    """The font has no outline for a letter; the message is the letter."""


class _Pen:
    """Takes down an outline, in the units of the font. The names are the shaper's."""

    def __init__(self, dx: float, dy: float) -> None:
        self.dx, self.dy = dx, dy
        self.commands: list[Command] = []

    def _moved(self, points: Sequence[Point]) -> tuple[Point, ...]:
        return tuple((x + self.dx, -(y + self.dy)) for x, y in points)

    def moveTo(self, at: Point) -> None:  # noqa: N802
        self.commands.append(("move", self._moved((at,))))

    def lineTo(self, to: Point) -> None:  # noqa: N802
        self.commands.append(("line", self._moved((to,))))

    def qCurveTo(self, *points: Point) -> None:  # noqa: N802
        self.commands.append(("quadratic", self._moved(points)))

    def curveTo(self, *points: Point) -> None:  # noqa: N802
        self.commands.append(("cubic", self._moved(points)))

    def closePath(self) -> None:  # noqa: N802
        self.commands.append(("close", ()))


class _Set(Struct, frozen=True):
    """Words set in units of the font: what the pen does for each letter."""

    letters: tuple[tuple[Command, ...], ...]
    cap: float


@lru_cache(maxsize=64)
def _set(face: bytes, text: str) -> _Set:
    import uharfbuzz as hb  # only a pattern with words to cut needs it

    font = hb.Font(hb.Face(face))
    if font.face.glyph_count == 0:
        raise NoFontError("this is no font in TrueType or OpenType form")
    if not text.strip():
        return _Set((), _cap(font))
    buffer = hb.Buffer()
    buffer.add_str(text)
    buffer.guess_segment_properties()
    # Each letter by itself: a ligature would join two that an author counts as two.
    hb.shape(font, buffer, {"kern": True, "liga": False, "clig": False})
    letters: list[tuple[Command, ...]] = []
    x = 0.0
    for info, position in zip(buffer.glyph_infos, buffer.glyph_positions, strict=True):
        if info.codepoint == 0:
            raise NoLetterError(text[info.cluster])
        pen = _Pen(x + position.x_offset, position.y_offset)
        font.draw_glyph_with_pen(info.codepoint, pen)
        letters.append(tuple(pen.commands))
        x += position.x_advance
    return _Set(tuple(letters), _cap(font))


def _cap(font: hb.Font) -> float:
    """How high a capital H is: what the eye takes for the height of a line of words."""
    glyph = font.get_nominal_glyph(ord("H"))
    extents = None if not glyph else font.get_glyph_extents(glyph)
    if extents is None or extents.y_bearing <= 0:
        raise NoFontError("this font has no capital H to measure its height by")
    return float(extents.y_bearing)


_MEASURED_MM = 10.0
"""How high capitals are while it is measured how wide they come; any height would do."""


@lru_cache(maxsize=64)
def lettering(
    face: bytes, text: str, cap_mm: float, wide_mm: float = 0.0, spaced_mm: float = 0.0
) -> Lettering:
    """The words with capitals ``cap_mm`` high, or ink ``wide_mm`` wide where that is above 0, each
    letter ``spaced_mm`` further from the next than the font sets it.

    Curves become arcs within 0.01 mm; overlapping strokes of a letter become one. No regions
    where nothing has an outline, or nothing is that wide. Raises ``NoFontError`` and
    ``NoLetterError``.
    """
    said = _set(face, text)
    scale = cap_mm / said.cap
    if wide_mm > 0.0:
        scale = _MEASURED_MM / said.cap
        # Twice as large, the ink is wider by what it is wide without the spaces.
        once, twice = (_width(said, k * scale, spaced_mm) for k in (1.0, 2.0))
        if twice - once <= _TINY or wide_mm <= 2.0 * once - twice:
            return Lettering((), 0.0, 0.0, 0.0)
        scale *= (wide_mm - (2.0 * once - twice)) / (twice - once)
    rings = _rings(said, scale, spaced_mm)
    left, right = _reach(rings)
    # As they are read, so that the first is the first letter: an S stands a little over an H.
    inked = sorted(filled(rings), key=lambda r: path_bounds(r.outer)[:2])
    return Lettering(tuple(inked), left, right - left, said.cap * scale)


def _width(said: _Set, scale: float, spaced_mm: float) -> float:
    left, right = _reach(_rings(said, scale, spaced_mm))
    return right - left


def _reach(rings: Sequence[Path]) -> tuple[float, float]:
    boxes = [path_bounds(r) for r in rings]
    return min((b[0] for b in boxes), default=0.0), max((b[2] for b in boxes), default=0.0)


def _rings(said: _Set, scale: float, spaced_mm: float) -> list[Path]:
    rings: list[Path] = []
    for number, commands in enumerate(said.letters):
        rings += rings_of(commands, _placing(scale, number * spaced_mm))
    return rings


def _placing(scale: float, ahead_mm: float) -> Callable[[Point], Point]:
    return lambda p: (p[0] * scale + ahead_mm, p[1] * scale)
