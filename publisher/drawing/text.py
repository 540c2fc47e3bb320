"""How much room words take, from the advance widths of the packaged faces.

Kerning is left out, so that a width is a little too large rather than too small. A fraction
(digits, stroke, digits) is set as a fraction by every renderer of the pictures: ``typeset``
writes it with the fraction slash U+2044, for which OpenType shapers use the face's own
numerators and denominators.
"""

from __future__ import annotations

import math
import re
from functools import cache
from pathlib import Path

import uharfbuzz as hb
from msgspec import Struct

from publisher.drawing.fonts import TEXT_FAMILY, face_file
from publisher.drawing.types import Label
from publisher.geometry.path import Point

MM_PER_PT = 25.4 / 72.0
NOTDEF = 0
"""The glyph that OpenType sets for a character that a face lacks."""
_FRACTION = re.compile(r"(?<![\d/])(\d+)/(\d+)(?![\d/])")
_SET_FRACTION = re.compile(r"(\d+)\u2044(\d+)")

# Of each label role in the flat drawings; a theme may colour them, not widen them.
ROLE_WEIGHTS = {"label": 400, "dimension": 400, "name": 500, "letter": 600}


def typeset(text: str) -> str:
    """The text with ``5/16`` written as a fraction of the face."""
    return _FRACTION.sub("\\1\u2044\\2", text)


class Face(Struct, frozen=True):
    """One static face, open for measuring and outlining; sizes in font units.

    ``glyphs`` are glyph numbers by character; ``numerators`` and ``denominators`` stand for
    the glyphs of the ten figures. Read by the shaper, which opens a face in a millisecond.
    """

    font: hb.Font
    units_per_em: int
    glyphs: dict[int, int]
    numerators: dict[int, int]
    denominators: dict[int, int]

    def run(self, text: str) -> list[int]:
        """Glyphs for the text, fractions set; a missing character gives ``NOTDEF``."""
        glyphs: list[int] = []
        text = typeset(text)
        here = 0
        for match in _SET_FRACTION.finditer(text):
            glyphs += self._plain(text[here : match.start()])
            glyphs += [self.numerators.get(g, g) for g in self._plain(match[1])]
            glyphs += self._plain("\u2044")
            glyphs += [self.denominators.get(g, g) for g in self._plain(match[2])]
            here = match.end()
        return glyphs + self._plain(text[here:])

    def _plain(self, text: str) -> list[int]:
        return [self.glyphs.get(ord(c), NOTDEF) for c in text]

    def advance(self, glyph: int) -> float:
        """In ems."""
        return float(self.font.get_glyph_h_advance(glyph)) / self.units_per_em


def _small_figures(font: hb.Font, feature: str) -> dict[int, int]:
    """The glyphs that stand for the ten figures when the feature is on, by the plain ones."""
    found: dict[int, int] = {}
    for figure in "0123456789":
        buffer = hb.Buffer()
        buffer.add_str(figure)
        buffer.guess_segment_properties()
        hb.shape(font, buffer, {feature: True})
        plain = font.get_nominal_glyph(ord(figure))
        if plain is not None and len(buffer.glyph_infos) == 1:
            found[plain] = buffer.glyph_infos[0].codepoint
    return found


@cache
def _opened(file: Path) -> Face:
    source = hb.Face(hb.Blob.from_file_path(str(file)))
    font = hb.Font(source)
    glyphs = ((c, font.get_nominal_glyph(c)) for c in source.unicodes)
    return Face(
        font,
        source.upem,
        {character: glyph for character, glyph in glyphs if glyph is not None},
        _small_figures(font, "numr"),
        _small_figures(font, "dnom"),
    )


def face(family: str = TEXT_FAMILY, weight: int = 400, italic: bool = False) -> Face:
    """The face, opened once in a process; raises FaceError where it is not installed."""
    return _opened(face_file(family, weight, italic))


@cache
def text_width_mm(
    text: str, size_pt: float, weight: int = 400, family: str = TEXT_FAMILY, italic: bool = False
) -> float:
    """The sum of the advance widths of the text set at ``size_pt``."""
    chosen = face(family, weight, italic)
    return sum(chosen.advance(g) for g in chosen.run(text)) * size_pt * MM_PER_PT


@cache
def cap_height_mm(size_pt: float, family: str = TEXT_FAMILY) -> float:
    """The height of capitals (and nearly of figures) above the baseline."""
    chosen = face(family)
    units = chosen.font.get_metric_position(hb.OTMetricsTag.CAP_HEIGHT)
    return float(units) / chosen.units_per_em * size_pt * MM_PER_PT


@cache
def descent_mm(size_pt: float, family: str = TEXT_FAMILY) -> float:
    """How far letters such as p reach below the baseline."""
    chosen = face(family)
    box = chosen.font.get_glyph_extents(chosen.glyphs[ord("p")])
    return -float(box.y_bearing + box.height) / chosen.units_per_em * size_pt * MM_PER_PT


def label_corners(label: Label, family: str = TEXT_FAMILY) -> tuple[Point, Point, Point, Point]:
    """The four corners of the room that a label takes, from ascender to descender."""
    width = text_width_mm(label.text, label.size_pt, ROLE_WEIGHTS[label.role], family)
    left = {"start": 0.0, "middle": -width / 2.0, "end": -width}[label.anchor]
    top = -cap_height_mm(label.size_pt, family) * 1.08
    bottom = descent_mm(label.size_pt, family)
    turn = math.radians(label.turn_deg)
    cos, sin = math.cos(turn), math.sin(turn)

    def placed(x: float, y: float) -> Point:
        return (label.at[0] + x * cos - y * sin, label.at[1] + x * sin + y * cos)

    right = left + width
    return (placed(left, top), placed(right, top), placed(right, bottom), placed(left, bottom))
