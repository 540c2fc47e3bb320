"""Pages to print: fronts, backs imposed for two-sided printing, and the cut lines apart."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping

import shapely

from publisher.geometry.measure import Bounds, path_bounds
from publisher.geometry.path import Path, Point, Region, polygon
from publisher.geometry.shapely_bridge import to_shapely
from publisher.geometry.transform import mirrored
from publisher.layout import Placed, Sheet, on_sheet, placed_bounds
from publisher.model.types import Face, Pattern, Piece
from publisher.printed.artwork import covering
from publisher.printed.types import Artwork, Fill
from publisher.templates.canvas import Canvas
from publisher.templates.ink import draw_outline
from publisher.templates.joins import cross

CROSS_MM = 6.0
"""From both edges of the page to the middle of a cross."""
ARM_MM = 3.0
CROSS_WIDTH_MM = 0.18
WORDS_PT = 8.0

Faces = Mapping[tuple[str, Face], Artwork]


def pages_of(
    pattern: Pattern,
    sheet: Sheet,
    artwork: Faces,
    fills: Mapping[str, Fill],
    bleed_mm: float,
    name: str,
) -> Iterator[Canvas]:
    """Front, back where a piece on the sheet has one, and cut lines. ``name`` says which sheet
    it is ("sheet 1 of 2")."""
    backed = any((placed.piece, "back") in artwork for placed in sheet.placed)
    title = f"{pattern.meta.title}, {sheet.stock.title.lower()}, {name}"
    flip = ": print on both sides, flip on the long edge" if backed else ""
    sides: list[tuple[Face, str]] = [("front", f"{title}, front{flip}")]
    if backed:
        sides.append(("back", f"{title}, back{flip}"))
    for face, words in sides:
        canvas = _page(sheet, words)
        for placed in sheet.placed:
            piece = pattern.piece(placed.piece)
            _draw(canvas, sheet, piece, placed, face, artwork, fills, bleed_mm)
        yield canvas
    words = f"{title}, cut lines: the crosses lie on those of the front"
    canvas = _page(sheet, words)
    for placed in sheet.placed:
        piece = pattern.piece(placed.piece)
        alt = f"Cut lines of {piece.name}"
        with canvas.tagged("Figure", alt, placed_bounds(piece, placed)):
            draw_outline(canvas, piece, placed)
    yield canvas


def _page(sheet: Sheet, words: str) -> Canvas:
    """A page with its crosses and its line of words."""
    wide, high = sheet.size.width_mm, sheet.size.height_mm
    canvas = Canvas(wide, high)
    with canvas.tagged("P"):
        canvas.words(words, (wide / 2, high - CROSS_MM + 1.0), size_pt=WORDS_PT, anchor="middle")
    with canvas.artifact(), canvas.marked("Register", "corners"):
        for at in crosses(wide, high):
            canvas.stroke(cross(at, ARM_MM), CROSS_WIDTH_MM)
    return canvas


def crosses(wide_mm: float, high_mm: float) -> tuple[Point, Point, Point, Point]:
    """The middles of the corner crosses: alike from every edge, so that they lie on each other
    on both sides of the paper."""
    right, bottom = wide_mm - CROSS_MM, high_mm - CROSS_MM
    return ((CROSS_MM, CROSS_MM), (right, CROSS_MM), (right, bottom), (CROSS_MM, bottom))


def _draw(
    canvas: Canvas,
    sheet: Sheet,
    piece: Piece,
    placed: Placed,
    face: Face,
    artwork: Faces,
    fills: Mapping[str, Fill],
    bleed_mm: float,
) -> None:
    own = artwork.get((piece.name, face))
    fill = fills.get(piece.stock.name) if face == "front" else None
    if own is None and fill is None:
        return
    region = on_sheet(piece.outline, piece, placed)
    turn = placed.turn_deg
    if face == "back":
        region = over(region, sheet)
    rings = bleeding(region, bleed_mm)
    box = path_bounds(rings[0])
    what = "Artwork" if own else "Pattern"
    alt = f"{what} of {piece.name}, {face}, {bleed_mm:g} mm larger than the piece on every side"
    with (
        canvas.tagged("Figure", alt, box),
        canvas.within(rings),
        canvas.marked("Print", placed.id),
    ):
        if own is not None:
            _image(canvas, own, box, turn if face == "front" else -turn)
        elif fill is not None:
            canvas.colour(fill.ground)
            canvas.paint(box)
            canvas.colour(fill.dots)
            canvas.dots(_rows(box, fill), fill.radius_mm)


def over(region: Region, sheet: Sheet) -> Region:
    """Where a piece lies on the other side of the paper, flipped about its long edge."""
    wide, high = sheet.size.width_mm, sheet.size.height_mm
    if high >= wide:
        return mirrored(region, (wide / 2, 0.0), (0.0, 1.0))
    return mirrored(region, (0.0, high / 2), (1.0, 0.0))


def bleeding(region: Region, bleed_mm: float) -> tuple[Path, ...]:
    """The rings of a region made larger all round, its corners kept sharp; windows shrink.
    Arcs become chords within 0.01 mm: nothing is cut along them."""
    grown_area = to_shapely(region).buffer(bleed_mm, join_style="mitre", mitre_limit=2.0)
    area = max(shapely.get_parts(grown_area), key=lambda part: part.area)
    rings = (area.exterior, *area.interiors)
    return tuple(polygon([(x, y) for x, y in ring.coords[:-1]]) for ring in rings)


def _rows(box: Bounds, fill: Fill) -> Iterator[Point]:
    """Dots in rows, every other row shifted by half a step, from the page's own corner, so that
    neighbours match."""
    step, row = fill.spacing_mm, fill.spacing_mm * math.sqrt(3.0) / 2.0
    for number in range(math.floor(box[1] / row), math.ceil(box[3] / row) + 1):
        shift = step / 2 if number % 2 else 0.0
        first = math.floor((box[0] - shift) / step)
        for column in range(first, math.ceil((box[2] - shift) / step) + 1):
            yield (column * step + shift, number * row)


def _image(canvas: Canvas, own: Artwork, box: Bounds, turn_deg: float) -> None:
    """The picture over the box of the bleed, turned with its piece."""
    quarter = round(turn_deg / 90.0) % 4
    if quarter == 0:
        canvas.image(own.image, covering(own.image, box))
        return
    x, y = (box[0] + box[2]) / 2, (box[1] + box[3]) / 2
    wide, high = box[2] - box[0], box[3] - box[1]
    if quarter % 2:
        wide, high = high, wide
    upright = (x - wide / 2, y - high / 2, x + wide / 2, y + high / 2)
    with canvas.turned((x, y), quarter * 90.0):
        canvas.image(own.image, covering(own.image, upright))
