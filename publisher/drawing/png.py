"""An SVG as a picture that is the same on every machine: words become outlines first."""

from __future__ import annotations

import math
from typing import cast
from xml.etree import ElementTree

from publisher.drawing.fonts import TEXT_FAMILY
from publisher.drawing.outlines import outline_data
from publisher.drawing.text import face

_SVG = "{http://www.w3.org/2000/svg}"


def _outline(text: ElementTree.Element) -> ElementTree.Element:
    """The path that stands for one ``text`` element as ``svg.to_svg`` writes it."""
    get = text.attrib.get
    family = get("font-family", TEXT_FAMILY).split(",")[0].strip("'\" ")
    chosen = face(family, int(get("font-weight", "400")), get("font-style") == "italic")
    data = outline_data(
        chosen,
        text.text or "",
        float(get("font-size", "1")),
        float(get("x", "0")),
        float(get("y", "0")),
        get("text-anchor", "start"),
    )
    kept: dict[str, str] = {k: text.attrib[k] for k in ("transform", "fill") if k in text.attrib}
    return ElementTree.Element(f"{_SVG}path", {"d": data, **kept})


def outlined(svg: str) -> str:
    """The SVG with every ``text`` element replaced by its outlines.

    Takes what ``svg.to_svg`` writes: text with ``x``, ``y``, ``font-family``, ``font-size``
    and no ``tspan``. Raises FaceError where a family is not among the packaged ones.
    """
    ElementTree.register_namespace("", _SVG[1:-1])
    root = ElementTree.fromstring(svg)
    for parent in list(root.iter()):
        for child in [c for c in parent if c.tag == f"{_SVG}text"]:
            parent[list(parent).index(child)] = _outline(child)
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
