"""The strip of a page: scale squares, what to do, what the lines mean, the map of the tiles."""

from __future__ import annotations

from collections.abc import Sequence

from msgspec import Struct

from publisher.cutfiles.roles import (
    CUT,
    DRAW,
    ENGRAVE,
    GLUE,
    PERFORATION,
    SCORE_MOUNTAIN,
    SCORE_VALLEY,
    Role,
)
from publisher.geometry.measure import Bounds
from publisher.geometry.path import Line, Path
from publisher.templates.canvas import Canvas, rectangle
from publisher.templates.faces import FaceName, shaped, wrapped
from publisher.templates.ink import draw_grain, draw_hatch, draw_lines_of_words, draw_role
from publisher.templates.types import INCH_MM, METRIC_MM, Tile, tile_name
from publisher.units import MM_PER_INCH, MM_PER_POINT

PT = 8.0
ROW_MM = 4.1
SAMPLE_MM = 12.0
LEAST_MM = 46.0
"""The narrowest column of the legend."""

SIGNS = {
    "cut": "cut through",
    "score-valley": "score, valley fold",
    "score-mountain": "score, mountain fold",
    "perforation": "tear along",
    "draw": "draw",
    "engrave": "cut into the face, not through",
    "glue-front": "glue on this face",
    "glue-back": "glue on the other face",
    "grain": "grain of the paper",
    "join": "join to the next part",
}
ROLES: dict[str, Role] = {
    role.name: role for role in (CUT, SCORE_VALLEY, SCORE_MOUNTAIN, PERFORATION, DRAW, ENGRAVE)
}
JOIN_MM = (14.0, 2.0)
JOIN_GREY = 0.4
JOIN_WIDTH_MM = 0.18


class StripWords(Struct, frozen=True):
    """What a page says: the pattern, what is on it, its number, paragraphs, signs."""

    title: str
    what: str
    number: str
    says: tuple[str, ...]
    signs: tuple[str, ...]


def draw_squares(
    canvas: Canvas, squares: Sequence[tuple[float, float]], light: bool = False
) -> None:
    """The two squares, each with marks along two sides and its size inside."""
    grey = 0.35 if light else 0.0
    for (x, y), side, step, said in zip(
        squares,
        (METRIC_MM, INCH_MM),
        (10.0, MM_PER_INCH / 4),
        ("50 mm", "2 in"),
        strict=True,
    ):
        box = (x, y, x + side, y + side)
        with canvas.tagged("Figure", f"Scale square, {said} each way", box):
            with canvas.marked("Scale", said):
                canvas.stroke([rectangle(box)], 0.18 if light else 0.25, grey=grey)
            marks = []
            for number in range(1, round(side / step)):
                at, long = number * step, 3.0 if number * step * 2 == side else 1.8
                marks.append(Path((Line((x + at, y + side), (x + at, y + side - long)),), False))
                marks.append(Path((Line((x, y + at), (x + long, y + at)),), False))
            canvas.stroke(marks, 0.18, grey=grey)
        with canvas.tagged("P"):
            middle = (x + side / 2, y + side / 2)
            canvas.words(said, middle, "strong", 11.0, "middle")
            hint = "to measure, not to cut" if light else "each way"
            below = (middle[0], middle[1] + 4.2)
            canvas.words(hint, below, size_pt=PT, anchor="middle", grey=0.2)


def draw_words(canvas: Canvas, words: StripWords, box: Bounds, columns: int = 1) -> None:
    """Title, paragraphs and legend in a box; in several columns the legend stands beside."""
    x0, y0, x1, _ = box
    gap = 6.0
    column = (x1 - x0 - gap * (columns - 1)) / columns
    down = y0
    for lines, grey in (
        (wrapped(words.title, column, "title", 13.0), 0.0),
        (wrapped(words.what, column, "text", 9.0), 0.0),
    ):
        down = draw_lines_of_words(canvas, lines, (x0, down), grey) + 0.9
    number = shaped(words.number, "text", PT)
    with canvas.tagged("P"):
        canvas.line(number, (x1, box[3] - 0.4), "end", grey=0.2)
    at = (x0, down + 1.0) if columns == 1 else (x0 + column + gap, y0)
    down = at[1]
    for text in words.says:
        down = draw_lines_of_words(canvas, wrapped(text, column, size_pt=PT), (at[0], down)) + 1.3
    legend = (at[0], down + 1.2)
    if columns > 2:
        legend = (x0 + 2 * (column + gap), y0 - 0.8)
    _legend(canvas, words.signs, (*legend, legend[0] + column, box[3]))


def _legend(canvas: Canvas, named: Sequence[str], box: Bounds) -> None:
    signs = [sign for sign in SIGNS if sign in named]
    columns = 2 if box[2] - box[0] >= 2 * LEAST_MM - 6.0 else 1
    rows = -(-len(signs) // columns)
    wide = (box[2] - box[0]) / columns
    for index, sign in enumerate(signs):
        column, row = divmod(index, rows)
        x, y = box[0] + column * wide, box[1] + row * ROW_MM
        sample = (x, y, x + SAMPLE_MM, y + ROW_MM)
        _sample(canvas, sign, sample)
        with canvas.tagged("P"):
            base = y + ROW_MM / 2 + 0.345 * PT * MM_PER_POINT
            canvas.words(SIGNS[sign], (x + SAMPLE_MM + 1.8, base), size_pt=PT)


def _sample(canvas: Canvas, sign: str, box: Bounds) -> None:
    x0, y0, x1, y1 = box
    middle = (y0 + y1) / 2
    line = Path((Line((x0, middle), (x1, middle)),), False)
    if sign == "grain":
        draw_grain(canvas, (x0, y0, x1, middle + 1.3), "across", word=False)
        return
    with canvas.artifact():
        if sign in ROLES:
            draw_role(canvas, ROLES[sign], [line])
        elif sign == "join":
            canvas.stroke([line], JOIN_WIDTH_MM, (5.0, 2.0), JOIN_GREY)
        else:
            zone = rectangle((x0, y0 + 0.6, x1, y1 - 0.6))
            draw_hatch(canvas, (zone,), "front" if sign == "glue-front" else "back")
            draw_role(canvas, GLUE, [zone])


def draw_map(canvas: Canvas, tile: Tile, aspect: float, box: Bounds) -> None:
    """Where a tile lies in its piece: this one filled, those without paper left out.

    ``aspect`` is a tile's width over its height.
    """
    x0, y0, x1, y1 = box
    high = min((y1 - y0) / tile.rows, (x1 - x0) / tile.columns / aspect)
    wide = high * aspect
    left = x1 - wide * tile.columns
    listed = ", ".join(tile_name(*place) for place in tile.there)
    alt = f"Map of the parts {listed}; this page is {tile.name}"
    with canvas.tagged("Figure", alt, box):
        for row, column in tile.there:
            x, y = left + column * wide, y0 + row * high
            part = rectangle((x, y, x + wide, y + high))
            if (row, column) == (tile.row, tile.column):
                canvas.fill([part], grey=0.82)
            canvas.stroke([part], 0.25)
    for row, column in tile.there:
        x, y = left + column * wide, y0 + row * high
        here = (row, column) == (tile.row, tile.column)
        with canvas.tagged("P"):
            at = (x + wide / 2, y + high / 2 + 0.345 * PT * MM_PER_POINT)
            face: FaceName = "strong" if here else "text"
            canvas.words(tile_name(row, column), at, face, PT, "middle")
