"""A drawing as plain SVG: mm, no style sheet, no pattern fills, the same bytes every time."""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Mapping
from functools import cache
from html import escape

from msgspec.structs import replace

from publisher.drawing.dashes import fitted
from publisher.drawing.hatch import Dots, dots_in, hatch_lines
from publisher.drawing.outlines import FIGURE, outline_data, rounded
from publisher.drawing.text import MM_PER_PT, face, typeset
from publisher.drawing.theme import LineStyle, Theme
from publisher.drawing.types import Drawing, Fill, Item, Label, Stroke
from publisher.geometry.path import Arc, Path
from publisher.trade import Stock

_POINT = f"{FIGURE} {FIGURE}"
_MOVE, _LINE = f"M{_POINT}", f"L{_POINT}"
_UNFIT_FOR_XML = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\ud800-\udfff\ufffe\uffff]")


def number(value: float) -> str:
    """The value to 0.001, without trailing zeros and without a minus before zero."""
    text = f"{value:.3f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def path_data(paths: Iterable[Path]) -> str:
    """The ``d`` of an SVG path; arcs are ``A`` commands."""
    # One template for all numbers: pictures have them by the ten thousand.
    commands: list[str] = []
    numbers: list[float] = []
    for path in paths:
        if not path.segments:
            continue
        commands.append(_MOVE)
        numbers += path.segments[0].start
        # the last line of a closed path is drawn by closing it
        drawn = path.segments
        if path.closed and not isinstance(drawn[-1], Arc):
            drawn = drawn[:-1]
        for segment in drawn:
            if isinstance(segment, Arc):
                large = 1 if abs(segment.sweep_deg) > 180.0 else 0
                commands.append(f"A{_POINT} 0 {large} {1 if segment.clockwise else 0} {_POINT}")
                numbers += (segment.radius_mm, segment.radius_mm, *segment.end)
            else:
                commands.append(_LINE)
                numbers += segment.end
        if path.closed:
            commands.append("Z")
    return "".join(commands) % rounded(numbers)


def _dot_data(dots: Dots) -> str:
    """Whole dots as two half ellipses each, then those that an edge cuts."""
    if not dots.centres:
        return path_data(dots.cut)
    long, short, turn = dots.axes
    across = (long * math.cos(math.radians(turn)), long * math.sin(math.radians(turn)))
    half = f"a{number(long)} {number(short)} {number(turn)} 0 1"
    x, y = number(2 * across[0]), number(2 * across[1])
    back = f"{number(-2 * across[0])} {number(-2 * across[1])}"
    dot = f"{_MOVE}{half} {x} {y}{half} {back}Z"
    starts = [v for cx, cy in dots.centres for v in (cx - across[0], cy - across[1])]
    return dot * len(dots.centres) % rounded(starts) + path_data(dots.cut)


@cache
def identifier(*words: str) -> str:
    """An XML id from names: letters, figures, hyphens, underscores and full stops."""
    joined = "-".join(w for w in words if w)
    fit = re.sub(r"[^\w.-]+", "-", joined, flags=re.ASCII).strip("-")
    return fit if re.match(r"[A-Za-z_]", fit) else f"d-{fit}"


def spoken(text: str) -> str:
    """The text escaped for XML; characters that XML forbids become U+FFFD."""
    return escape(_UNFIT_FOR_XML.sub("\ufffd", text), quote=False)


def _line_attributes(style: LineStyle | None, width_mm: float, colour: str) -> str:
    attributes = f' fill="none" stroke="{colour}" stroke-width="{number(width_mm)}"'
    if style is not None and style.dash_mm:
        # A dot is a dash of no length under a round cap; 0.01 also shows where 0 does not.
        dashes = " ".join(number(max(d, 0.01)) for d in style.dash_mm)
        attributes += f' stroke-dasharray="{dashes}"'
    if style is not None and style.cap == "round":
        attributes += ' stroke-linecap="round"'
    return attributes + ' stroke-linejoin="round"'


class _Writer:
    def __init__(self, drawing: Drawing, theme: Theme, stocks: Mapping[str, Stock]) -> None:
        self.drawing, self.theme, self.stocks = drawing, theme, stocks

    def written(self) -> str:
        drawing = self.drawing
        width, height = number(drawing.width_mm), number(drawing.height_mm)
        name = identifier(drawing.name)
        first, _, rest = drawing.alt.partition(". ")
        lines = [
            '<?xml version="1.0" encoding="UTF-8"?>',
            f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}mm" height="{height}mm" '
            f'viewBox="0 0 {width} {height}" role="img" '
            f'aria-labelledby="{name}-title{f" {name}-desc" if rest else ""}">',
            f'<title id="{name}-title">{spoken(first)}</title>',
        ]
        if rest:
            lines.append(f'<desc id="{name}-desc">{spoken(rest)}</desc>')
        for item in drawing.items:
            lines += self._item(item)
        lines.append("</svg>")
        return "\n".join(lines) + "\n"

    def _item(self, item: Item) -> list[str]:
        if isinstance(item, Label):
            return self._label(item)
        if isinstance(item, Stroke):
            return self._stroke(item)
        return self._fill(item)

    def _marks(self, item: Item) -> str:
        attributes = f' id="{identifier(self.drawing.name, item.id)}"' if item.id else ""
        return f'{attributes} class="{item.role}"'

    def _stroke(self, item: Stroke) -> list[str]:
        style = self.theme.lines[item.role]
        kinds: dict[tuple[float, ...], list[Path]] = {}
        for path in item.paths:
            if path.segments:
                dash = fitted(style.dash_mm, path.length_mm, path.closed) if style.dash_mm else ()
                kinds.setdefault(tuple(round(d, 2) for d in dash), []).append(path)
        drawn: list[str] = []
        for dash, paths in kinds.items():
            marks = self._marks(item) if not drawn else f' class="{item.role}"'
            look = _line_attributes(replace(style, dash_mm=dash), style.width_mm, style.colour)
            drawn.append(f'<path{marks} d="{path_data(paths)}"{look}/>')
        return drawn

    def _fill(self, item: Fill) -> list[str]:
        if not item.rings:
            return []
        style = self.theme.fills[item.role]
        marks = self._marks(item)
        colour = self.theme.fill_colour(style, self.stocks.get(item.stock), item.shade)
        if style.hatch is not None:
            hatch = style.hatch
            lines = hatch_lines(item.rings, hatch.spacing_mm, item.hatch_deg)
            data = path_data(Path((line,), closed=False) for line in lines)
            look = _line_attributes(
                LineStyle(hatch.width_mm, hatch.dash_mm, "butt", hatch.colour),
                hatch.width_mm,
                hatch.colour,
            )
            return [f'<path{marks} d="{data}"{look}/>'] if data else []
        if style.dots is not None:
            dots = style.dots
            data = _dot_data(dots_in(item.rings, dots.spacing_mm, dots.radius_mm, item.plane))
            return [f'<path{marks} d="{data}" fill="{colour}"/>'] if data else []
        data = path_data(item.rings)
        if not data:
            return []
        drawn = [f'<path{marks} d="{data}" fill="{colour}"']
        if style.opacity < 1.0:
            drawn[0] += f' fill-opacity="{number(style.opacity)}"'
        drawn[0] += ' fill-rule="evenodd"/>' if len(item.rings) > 1 else "/>"
        if style.halo_mm > 0:
            look = _line_attributes(None, 2 * style.halo_mm, self.theme.paper.page)
            drawn.insert(0, f'<path class="halo" d="{data}"{look}/>')
        return drawn

    def _label(self, item: Label) -> list[str]:
        style = self.theme.labels[item.role]
        x, y = number(item.at[0]), number(item.at[1])
        em = item.size_pt * MM_PER_PT
        turn = f' transform="rotate({number(item.turn_deg)} {x} {y})"' if item.turn_deg else ""
        family = spoken(f"'{style.family}', sans-serif").replace('"', "&quot;")
        attributes = (
            f' x="{x}" y="{y}" font-family="{family}" '
            f'font-size="{number(em)}" fill="{style.colour}"'
        )
        if style.weight != 400:
            attributes += f' font-weight="{style.weight}"'
        if style.italic:
            attributes += ' font-style="italic"'
        if item.anchor != "start":
            attributes += f' text-anchor="{item.anchor}"'
        words = spoken(typeset(item.text))
        drawn = [f"<text{self._marks(item)}{attributes}{turn}>{words}</text>"]
        if style.halo_mm > 0:
            # Outlines, all of them under the words: a stroke on the words themselves is drawn
            # letter by letter in print, and each would eat into the one before.
            chosen = face(style.family, style.weight, style.italic)
            data = outline_data(chosen, item.text, em, *item.at, item.anchor)
            look = _line_attributes(None, 2 * style.halo_mm, self.theme.paper.page)
            drawn.insert(0, f'<path class="halo" d="{data}"{look}{turn}/>')
        return drawn


def to_svg(drawing: Drawing, theme: Theme, stocks: Mapping[str, Stock]) -> str:
    """The drawing as an SVG document.

    ``stocks`` gives paper colours by stock name; a stock that is not there is drawn as plain
    paper. Title and description come from the drawing's alternative text. Numbers are
    rounded to 0.001 mm.
    """
    return _Writer(drawing, theme, stocks).written()
