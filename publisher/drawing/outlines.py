"""Words as outlines: for halos under words, and for pictures that look the same everywhere."""

from __future__ import annotations

from fontTools.misc.transform import Transform
from fontTools.pens.svgPathPen import SVGPathPen
from fontTools.pens.transformPen import TransformPen

from publisher.drawing.text import Face


def _short(value: float) -> str:
    text = f"{value:.3f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def outline_data(
    chosen: Face, text: str, em_mm: float, x: float, y: float, anchor: str = "start"
) -> str:
    """The ``d`` of an SVG path with the outlines of the words, their baseline at ``y``.

    ``em_mm`` is the size of the type; ``anchor`` ("start", "middle", "end") says which part of
    the words stands at ``x``.
    """
    glyphs = chosen.run(text)
    width = sum(chosen.advance(g) for g in glyphs) * em_mm
    x += {"middle": -width / 2.0, "end": -width}.get(anchor, 0.0)
    scale = em_mm / chosen.units_per_em
    shapes = chosen.font.getGlyphSet()
    pen = SVGPathPen(shapes, ntos=_short)
    for glyph in glyphs:
        shapes[glyph].draw(TransformPen(pen, Transform(scale, 0, 0, -scale, x, y)))
        x += chosen.advance(glyph) * em_mm
    return str(pen.getCommands())
