"""An SVG as a picture that is the same on every machine: words become outlines first."""

from __future__ import annotations

import math
from typing import cast
from xml.etree import ElementTree

from fontTools.misc.transform import Transform
from fontTools.pens.svgPathPen import SVGPathPen
from fontTools.pens.transformPen import TransformPen

from publisher.drawing.fonts import TEXT_FAMILY
from publisher.drawing.text import face

_SVG = "{http://www.w3.org/2000/svg}"


def _outline(text: ElementTree.Element) -> list[ElementTree.Element]:
    """The paths that stand for one ``text`` element as ``svg.to_svg`` writes it."""
    get = text.attrib.get
    family = get("font-family", TEXT_FAMILY).split(",")[0].strip("'\" ")
    weight = int(get("font-weight", "400"))
    chosen = face(family, weight, get("font-style") == "italic")
    em = float(get("font-size", "1"))
    glyphs = chosen.run(text.text or "")
    width = sum(chosen.advance(g) for g in glyphs) * em
    shift = {"middle": -width / 2.0, "end": -width}.get(get("text-anchor", "start"), 0.0)
    x, y = float(get("x", "0")) + shift, float(get("y", "0"))
    scale = em / chosen.units_per_em
    outlines = chosen.font.getGlyphSet()
    pen = SVGPathPen(outlines, ntos=lambda v: f"{v:.4f}".rstrip("0").rstrip("."))
    for glyph in glyphs:
        placed = Transform(scale, 0, 0, -scale, x, y)
        outlines[glyph].draw(TransformPen(pen, placed))
        x += chosen.advance(glyph) * em
    shared = {"d": pen.getCommands()}
    if "transform" in text.attrib:
        shared["transform"] = text.attrib["transform"]
    paths = []
    if "stroke" in text.attrib:
        under = {key: text.attrib[key] for key in text.attrib if key.startswith("stroke")}
        paths.append(ElementTree.Element(f"{_SVG}path", {**shared, **under, "fill": "none"}))
    paths.append(ElementTree.Element(f"{_SVG}path", {**shared, "fill": get("fill", "#000000")}))
    return paths


def outlined(svg: str) -> str:
    """The SVG with every ``text`` element replaced by its outlines.

    Takes what ``svg.to_svg`` writes: text with ``x``, ``y``, ``font-family``, ``font-size``
    and no ``tspan``. Raises FaceError where a family is not among the packaged ones.
    """
    ElementTree.register_namespace("", _SVG[1:-1])
    root = ElementTree.fromstring(svg)
    for parent in list(root.iter()):
        for child in [c for c in parent if c.tag == f"{_SVG}text"]:
            place = list(parent).index(child)
            parent.remove(child)
            for step, path in enumerate(_outline(child)):
                parent.insert(place + step, path)
    return ElementTree.tostring(root, encoding="unicode")


def to_png(svg: str, width_px: int, ground: str | None = "#ffffff") -> bytes:
    """The SVG as PNG, ``width_px`` wide, its height in proportion; ``ground`` None is clear."""
    import cairosvg  # it takes 0.2 s to load, and not every build draws pictures

    root = ElementTree.fromstring(svg)
    _, _, width, height = (float(v) for v in root.attrib["viewBox"].split())
    return cast(
        bytes,
        cairosvg.svg2png(
            bytestring=outlined(svg).encode(),
            output_width=width_px,
            output_height=max(1, math.ceil(width_px * height / width - 1e-6)),
            background_color=ground,
        ),
    )
