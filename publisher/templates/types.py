"""The values of a set of templates: pages of paper with pieces on them at true size.

Coordinates are mm from the page's top left, x right, y down.
"""

from __future__ import annotations

from typing import Literal, TypeAlias

from msgspec import Struct

from publisher.geometry.measure import Bounds
from publisher.layout.types import Placed
from publisher.trade import SheetSize, Stock

Foot: TypeAlias = Literal["foot", "side", "inside"]
"""Where a page has its scale squares and words: in a strip below the pieces, in a column
beside them, or the words in a low strip and the squares wherever they find room."""


class Tile(Struct, frozen=True):
    """One part of a piece that is larger than a page. ``row`` and ``column`` count from 0,
    ``rows`` and ``columns`` say how many there are; ``there`` are those with paper in them.

    ``clip`` is the part of the page that it fills; ``overlap_mm`` is shared with each
    neighbour.
    """

    row: int
    column: int
    rows: int
    columns: int
    there: tuple[tuple[int, int], ...]
    clip: Bounds
    overlap_mm: float

    @property
    def name(self) -> str:
        return tile_name(self.row, self.column)


def tile_name(row: int, column: int) -> str:
    """``A1`` is the first of the top row, ``B2`` the second of the next."""
    letters = ""
    row += 1
    while row:
        row, rest = divmod(row - 1, 26)
        letters = chr(ord("A") + rest) + letters
    return f"{letters}{column + 1}"


class Laid(Struct, frozen=True):
    """A piece on a page. ``placed`` says where its box lies; of a tiled piece most of it may
    lie off the page. ``captioned`` where its words stand below it and not within."""

    placed: Placed
    captioned: bool = False
    tile: Tile | None = None


class TemplatePage(Struct, frozen=True):
    """One page: paper of one stock, its pieces, where its squares and words are.

    ``squares`` are the top left corners of the metric and the inch square.
    """

    paper: SheetSize
    stock: Stock
    foot: Foot
    laid: tuple[Laid, ...]
    squares: tuple[tuple[float, float], tuple[float, float]]


class Warned(Struct, frozen=True):
    """A safety message: signal word, what can happen, how to avoid it."""

    signal: str
    hazard: str
    avoid: str


METRIC_MM = 50.0
INCH_MM = 50.8
"""The sides of the two squares: 50 mm and 2 in."""
