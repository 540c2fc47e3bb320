"""A drawing as a picture, by the typesetter that sets the booklet: it is loaded by then."""

from __future__ import annotations

import math
from typing import cast
from xml.etree import ElementTree

import typst

from publisher.drawing.png import outlined

_PAGE = """
#let px(name) = int(sys.inputs.at(name)) * 1pt
#set page(width: px("wide"), height: px("high"), margin: 0pt, fill: white)
#image(bytes(sys.inputs.svg), format: "svg", width: 100%, height: 100%, fit: "stretch")
"""


def picture(svg: str, width_px: int) -> bytes:
    """The drawing as PNG on white, ``width_px`` wide, its height in proportion and rounded up.

    Takes what ``drawing.svg.to_svg`` writes; its words become outlines, so that the picture is
    the same on every machine.

    Raises:
        FaceError: a family is not among the packaged ones.
    """
    root = ElementTree.fromstring(svg)
    _, _, width, height = (float(value) for value in root.attrib["viewBox"].split())
    high = max(1, math.ceil(width_px * height / width - 1e-6))
    png = typst.compile(  # type: ignore[call-overload]
        _PAGE.encode(),
        root="/dev/null",
        font_paths=typst.Fonts(include_system_fonts=False, include_embedded_fonts=False),
        format="png",
        ppi=72,  # one pixel to the point
        sys_inputs={"svg": outlined(svg), "wide": str(width_px), "high": str(high)},
    )
    return cast(bytes, png)
