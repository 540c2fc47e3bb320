"""A sheet as plain SVG: arcs as arcs, no transforms, no style sheet.

``width`` and ``height`` are in mm and the viewBox in the units that a reader assumes where it
takes bare numbers: CSS pixels, 96 to the inch (CSS Values and Units 4, 5.2), or 72 or 90. So a
reader that heeds only one of them still gets the size right.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from xml.sax.saxutils import escape, quoteattr

from publisher.cutfiles.lines import CopyLines, SheetLines
from publisher.cutfiles.roles import LINE_WIDTH_MM, Role, dash_mm, width_mm
from publisher.geometry.path import Arc, Path, Point
from publisher.units import MM_PER_INCH, number

DECIMALS = 5


def to_svg(lines: SheetLines, units_per_inch: float = 96.0) -> bytes:
    """The sheet as an SVG file in UTF-8."""
    return ("\n".join(_Writer(lines, units_per_inch).document()) + "\n").encode()


class _Writer:
    """Writes lengths in a file's own units."""

    def __init__(self, lines: SheetLines, units_per_inch: float) -> None:
        self.lines = lines
        self.scale = units_per_inch / MM_PER_INCH

    def document(self) -> Iterator[str]:
        lines, width, height = self.lines, self.lines.width_mm, self.lines.height_mm
        yield '<?xml version="1.0" encoding="UTF-8"?>'
        yield (
            f'<svg xmlns="http://www.w3.org/2000/svg" width="{number(width, 4)}mm" '
            f'height="{number(height, 4)}mm" '
            f'viewBox="0 0 {self.length(width)} {self.length(height)}">'
        )
        yield f"<title>{escape(lines.title)}</title>"
        yield (
            f'<g fill="none" stroke="#000000" stroke-width="{self.length(LINE_WIDTH_MM)}" '
            'stroke-linecap="round" stroke-linejoin="round">'
        )
        for copy in lines.copies:
            yield from self.copy(copy)
        yield "</g>"
        yield "</svg>"

    def copy(self, copy: CopyLines) -> Iterator[str]:
        yield f"<g id={quoteattr(copy.id)}>"
        for role, paths in copy.by_role:
            yield f"<g id={quoteattr(f'{copy.id}-{role.name}')}{self.look(role)}>"
            for path in paths:
                yield f'<path d="{self.data(path)}"/>'
            yield "</g>"
        yield "</g>"

    def look(self, role: Role) -> str:
        width, dashes = width_mm(role, self.lines.score_as), dash_mm(role, self.lines.score_as)
        said = f' stroke-width="{self.length(width)}"' if width != LINE_WIDTH_MM else ""
        if dashes:
            said += f' stroke-dasharray="{" ".join(self.length(mm) for mm in dashes)}"'
        return said

    def length(self, mm: float) -> str:
        return number(mm * self.scale, DECIMALS)

    def point(self, point: Point) -> str:
        return f"{self.length(point[0])} {self.length(point[1])}"

    def data(self, path: Path) -> str:
        parts = [f"M{self.point(path.start)}"]
        for segment in path.segments:
            if isinstance(segment, Arc):
                parts.append(self.arc(segment))
            else:
                parts.append(f"L{self.point(segment.end)}")
        if path.closed:
            if not isinstance(path.segments[-1], Arc):
                parts.pop()
            parts.append("Z")
        return "".join(parts)

    def arc(self, arc: Arc) -> str:
        sweep = abs(arc.sweep_deg)
        radius = arc.radius_mm
        if abs(sweep - 180.0) < 0.01:
            # Rounded ends could lie a hair closer than the diameter, which would push the
            # centre well to one side. A radius that is too short is widened by the reader
            # (SVG 2, 9.5.1) to half the distance of the ends, which is right.
            radius = math.floor(radius * self.scale * 1e4) / 1e4 / self.scale
        large = 1 if sweep > 180.0 else 0
        reach = self.length(radius)
        return f"A{reach} {reach} 0 {large} {int(arc.clockwise)} {self.point(arc.end)}"
