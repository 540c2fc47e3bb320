"""Which piece goes on which page of templates."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import shapely
from msgspec import Struct
from shapely.geometry.base import BaseGeometry

from publisher.geometry.measure import Bounds
from publisher.geometry.shapely_bridge import to_shapely
from publisher.layout import Placed, on_sheet
from publisher.layout.pack import pack
from publisher.layout.room import Box, fits
from publisher.model.types import Pattern, Piece
from publisher.templates.spots import clear_room, find_spot, without
from publisher.templates.tiles import tiled
from publisher.templates.types import INCH_MM, METRIC_MM, Foot, Laid, TemplatePage
from publisher.templates.words import CAPTION_MM, caption_width_mm, label_room
from publisher.trade import SheetSize, Stock
from publisher.units import Ruler

GAP_MM = 5.0
"""Between pieces, and between what stands in the strip."""
STRIP_MM = INCH_MM + 3.0
"""The strip of squares and words, and its distance from the pieces."""
BAND_MM = 31.0
"""The low strip of words where the squares lie elsewhere."""
SQUARE_CLEAR_MM = 2.5
KINDS: tuple[Foot, ...] = ("foot", "side", "inside")


class _Asked(Struct, frozen=True):
    """A piece and the box it takes, upright or turned, its caption within."""

    piece: Piece
    captioned: bool
    first: Ruler

    def box(self, turned: bool) -> Box:
        x_min, y_min, x_max, y_max = self.piece.bounds
        wide, high = x_max - x_min, y_max - y_min
        if turned:
            wide, high = high, wide
        if self.captioned:
            wide, high = max(wide, caption_width_mm(self.piece, self.first)), high + CAPTION_MM
        return Box(wide, high)


def without_room(pattern: Pattern) -> frozenset[str]:
    """The names of pieces that are too small for their words."""
    first = pattern.meta.ruler
    return frozenset(
        piece.name
        for piece in pattern.pieces
        if label_room(piece, clear_room(piece), first) is None
    )


def arrange(
    pattern: Pattern, paper: SheetSize, overlap_mm: float, small: frozenset[str] | None = None
) -> tuple[TemplatePage, ...]:
    """The pages, one stock to a page, so that a maker may print on the stock itself.

    Every piece is there once, however many copies are cut. The largest goes first; whatever
    else of its stock finds room beside it goes along. ``small`` are the pieces ``without_room``,
    where that is known already.
    """
    pages: list[TemplatePage] = []
    first = pattern.meta.ruler
    captioned = without_room(pattern) if small is None else small
    for stock in {piece.stock.name: piece.stock for piece in pattern.pieces}.values():
        waiting = [
            _Asked(piece, piece.name in captioned, first)
            for piece in pattern.pieces
            if piece.stock.name == stock.name
        ]
        waiting.sort(key=lambda a: -_area(a))
        while waiting:
            page, taken = _fullest(waiting, paper, stock)
            if page is not None:
                pages.append(page)
                waiting = [a for a in waiting if a not in taken]
            else:
                pages += _tiles(waiting.pop(0).piece, paper, stock, overlap_mm)
    return tuple(pages)


def _area(asked: _Asked) -> float:
    box = asked.box(turned=False)
    return box.width_mm * box.height_mm


def area_of(paper: SheetSize, foot: Foot) -> Bounds:
    """The part of a page that is free for pieces."""
    margin = paper.margin_mm
    right, bottom = paper.width_mm - margin, paper.height_mm - margin
    if foot == "side":
        return (margin, margin, right - STRIP_MM, bottom)
    return (margin, margin, right, bottom - (STRIP_MM if foot == "foot" else BAND_MM))


def squares_of(paper: SheetSize, foot: Foot) -> tuple[tuple[float, float], tuple[float, float]]:
    """Top left of the metric and the inch square in the strip or the column."""
    margin = paper.margin_mm
    if foot == "side":
        left = paper.width_mm - margin - INCH_MM
        return ((left, margin), (left, margin + METRIC_MM + GAP_MM))
    top = paper.height_mm - margin - INCH_MM
    return ((margin, top), (margin + METRIC_MM + GAP_MM, top))


def _fullest(
    waiting: Sequence[_Asked], paper: SheetSize, stock: Stock
) -> tuple[TemplatePage | None, list[_Asked]]:
    """The page with the largest piece on it that takes the most paper with it."""
    best: tuple[TemplatePage | None, list[_Asked]] = (None, [])
    most = 0.0
    for foot in KINDS:
        taken = _taken(waiting, area_of(paper, foot))
        if sum(_area(a) for a, _ in taken) <= most * 1.0001:
            continue
        page = _page(taken, paper, stock, foot)
        if page is not None:
            most = sum(_area(a) for a, _ in taken)
            best = (page, [a for a, _ in taken])
    return best


def _taken(waiting: Sequence[_Asked], area: Bounds) -> list[tuple[_Asked, bool]]:
    """The largest and what fits beside it, each with whether it is turned."""
    wide, high = area[2] - area[0], area[3] - area[1]
    taken: list[tuple[_Asked, bool]] = []
    for asked in waiting:
        ways = [turned for turned in (False, True) if fits(asked.box(turned), wide, high)]
        for turned in ways:
            trial = [*taken, (asked, turned)]
            boxes = [a.box(t) for a, t in trial]
            if all(s.sheet == 0 for s in pack(boxes, wide, high, GAP_MM, may_turn=False)):
                taken = trial
                break
        if not taken:
            return []
    return taken


def _page(
    taken: Sequence[tuple[_Asked, bool]], paper: SheetSize, stock: Stock, foot: Foot
) -> TemplatePage | None:
    if not taken:
        return None
    area = area_of(paper, foot)
    wide, high = area[2] - area[0], area[3] - area[1]
    boxes = [a.box(turned) for a, turned in taken]
    spots = pack(boxes, wide, high, GAP_MM, may_turn=False)
    # All together in the middle: a lone piece in a corner looks lost.
    right = max(s.x_mm + b.width_mm for s, b in zip(spots, boxes, strict=True))
    left = area[0] + (wide - right) / 2
    laid = []
    for (asked, turned), box, spot in zip(taken, boxes, spots, strict=True):
        x_min, y_min, x_max, y_max = asked.piece.bounds
        own = y_max - y_min if turned else x_max - x_min
        x = left + spot.x_mm + (box.width_mm - own) / 2
        turn = 90.0 if turned else 0.0
        placed = Placed(asked.piece.name, 1, round(x, 6), round(area[1] + spot.y_mm, 6), turn)
        laid.append(Laid(placed, asked.captioned))
    squares = squares_of(paper, foot)
    if foot == "inside":
        pieces = [(a.piece, entry.placed) for (a, _), entry in zip(taken, laid, strict=True)]
        found = _loose_squares(area, pieces)
        if found is None:
            return None
        squares = found
    return TemplatePage(paper, stock, foot, tuple(laid), squares)


def _loose_squares(
    area: Bounds, pieces: Sequence[tuple[Piece, Placed]]
) -> tuple[tuple[float, float], tuple[float, float]] | None:
    """Room for both squares beside the pieces or, failing that, within them."""
    whole = shapely.box(*area)
    papers = [to_shapely(on_sheet(piece.outline, piece, placed)) for piece, placed in pieces]
    beside = whole.difference(shapely.union_all(papers).buffer(SQUARE_CLEAR_MM))
    within = [room_on_page(piece, placed, SQUARE_CLEAR_MM) for piece, placed in pieces]
    room = shapely.union_all([beside, *within])
    both = METRIC_MM + GAP_MM + INCH_MM
    pair = find_spot(room, both, INCH_MM)
    if pair is not None:
        return (pair[:2], (pair[0] + METRIC_MM + GAP_MM, pair[1]))
    pair = find_spot(room, INCH_MM, both)
    if pair is not None:
        return (pair[:2], (pair[0], pair[1] + METRIC_MM + GAP_MM))
    found: list[Bounds] = []
    for side in (METRIC_MM, INCH_MM):
        box = find_spot(room, side, side)
        if box is None:
            return None
        found.append(box)
        room = without(room, box, SQUARE_CLEAR_MM)
    return (found[0][:2], found[1][:2])


def room_on_page(piece: Piece, placed: Placed, clear_mm: float) -> BaseGeometry:
    """The clear room of a piece where it lies on a page."""
    room = clear_room(piece, clear_mm)
    x_min, y_min, _, y_max = piece.bounds
    if placed.turn_deg:
        turned = shapely.affinity.affine_transform(room, [0, -1, 1, 0, 0, 0])
        return shapely.affinity.translate(turned, placed.x_mm + y_max, placed.y_mm - x_min)
    return shapely.affinity.translate(room, placed.x_mm - x_min, placed.y_mm - y_min)


def _tiles(
    piece: Piece, paper: SheetSize, stock: Stock, overlap_mm: float
) -> Iterator[TemplatePage]:
    for placed, tile in tiled(piece, area_of(paper, "foot"), overlap_mm):
        laid = (Laid(placed, captioned=False, tile=tile),)
        yield TemplatePage(paper, stock, "foot", laid, squares_of(paper, "foot"))
