"""A sheet as plain SVG: arcs as arcs, no transforms, no style sheet.

``width`` and ``height`` are in mm and the viewBox in CSS pixels, 96 to the inch (CSS Values and
Units 4, 5.2), so that a reader that heeds only one of them still gets the size right.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from xml.sax.saxutils import escape, quoteattr

from publisher.cutfiles.lines import CopyLines, sheet_lines
from publisher.cutfiles.roles import LINE_WIDTH_MM, Role
from publisher.geometry.path import Arc, Path, Point
from publisher.layout import Sheet
from publisher.model.types import Pattern
from publisher.units import MM_PER_INCH, number

PX_PER_MM = 96.0 / MM_PER_INCH
DECIMALS = 5


def sheet_svg(pattern: Pattern, sheet: Sheet) -> bytes:
    """The sheet as an SVG file in UTF-8."""
    return ("\n".join(_document(pattern, sheet)) + "\n").encode()


def _document(pattern: Pattern, sheet: Sheet) -> Iterator[str]:
    width, height = sheet.size.width_mm, sheet.size.height_mm
    yield '<?xml version="1.0" encoding="UTF-8"?>'
    yield (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{number(width, 4)}mm" '
        f'height="{number(height, 4)}mm" viewBox="0 0 {_px(width)} {_px(height)}">'
    )
    yield f"<title>{escape(pattern.meta.title)}, {escape(sheet.name)}</title>"
    yield f'<g fill="none" stroke="#000000" stroke-width="{_px(LINE_WIDTH_MM)}">'
    for copy in sheet_lines(pattern, sheet):
        yield from _copy(copy)
    yield "</g>"
    yield "</svg>"


def _copy(copy: CopyLines) -> Iterator[str]:
    yield f"<g id={quoteattr(copy.id)}>"
    for role, paths in copy.by_role:
        yield f"<g id={quoteattr(f'{copy.id}-{role.name}')}{_dashes(role)}>"
        for path in paths:
            yield f'<path d="{_data(path)}"/>'
        yield "</g>"
    yield "</g>"


def _dashes(role: Role) -> str:
    if not role.dash_mm:
        return ""
    return f' stroke-dasharray="{" ".join(_px(mm) for mm in role.dash_mm)}"'


def _px(mm: float) -> str:
    return number(mm * PX_PER_MM, DECIMALS)


def _point(point: Point) -> str:
    return f"{_px(point[0])} {_px(point[1])}"


def _data(path: Path) -> str:
    parts = [f"M{_point(path.start)}"]
    for segment in path.segments:
        if isinstance(segment, Arc):
            parts.append(_arc(segment))
        else:
            parts.append(f"L{_point(segment.end)}")
    if path.closed:
        if not isinstance(path.segments[-1], Arc):
            parts.pop()
        parts.append("Z")
    return "".join(parts)


def _arc(arc: Arc) -> str:
    sweep = abs(arc.sweep_deg)
    radius = arc.radius_mm
    if abs(sweep - 180.0) < 0.01:
        # Rounded ends could lie a hair closer than the diameter, which would push the centre
        # well to one side. A radius that is too short is widened by the reader (SVG 2, 9.5.1)
        # to half the distance of the ends, which is right.
        radius = math.floor(radius * PX_PER_MM * 1e4) / 1e4 / PX_PER_MM
    large = 1 if sweep > 180.0 else 0
    return f"A{_px(radius)} {_px(radius)} 0 {large} {int(arc.clockwise)} {_point(arc.end)}"
