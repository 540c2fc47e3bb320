"""The values of a cutting table. Lengths in mm; those called printed lie on a ruler's mark."""

from __future__ import annotations

from msgspec import Struct

from publisher.trade import SheetSize, Stock
from publisher.units import FirstUnit


class ScoreMark(Struct, frozen=True):
    """A score parallel to an edge of the blank: how far from that edge, as printed and as
    designed. ``start_mm`` and ``end_mm`` are None where it runs over all the paper there is."""

    at_mm: float
    exact_mm: float
    start_mm: float | None = None
    end_mm: float | None = None


class Deviation(Struct, frozen=True):
    """Two scores side by side whose distance as printed is not the one designed."""

    first_mm: float
    second_mm: float
    exact_mm: float
    printed_mm: float

    @property
    def off_mm(self) -> float:
        return self.printed_mm - self.exact_mm


class Figures(Struct, frozen=True):
    """What is set on trimmer and board in one unit. ``across`` are scores measured from the
    left edge, ``down`` from the top edge."""

    unit: FirstUnit
    width_mm: float
    height_mm: float
    across: tuple[ScoreMark, ...]
    down: tuple[ScoreMark, ...]
    deviations: tuple[Deviation, ...]


class Row(Struct, frozen=True):
    """One piece. ``trimmed`` where its blank is larger than the piece, so that corners or
    openings are left to the knife; ``slanted`` counts scores that no board can set."""

    piece: str
    copies: int
    stock: Stock
    figures: tuple[Figures, ...]
    trimmed: bool
    slanted: int


class Part(Struct, frozen=True):
    """A rectangle of a sheet, from its top left; ``piece`` is "" for what is left over."""

    piece: str
    x_mm: float
    y_mm: float
    width_mm: float
    height_mm: float


class Cut(Struct, frozen=True):
    """One stroke of the trimmer through a whole part, in the order of work.

    ``upright`` cuts are measured from the left edge of the part, others from its top edge, by
    ``at_mm``. The line on the sheet is (``x_mm``, ``y_mm``) and ``length_mm`` long.
    """

    number: int
    upright: bool
    at_mm: float
    x_mm: float
    y_mm: float
    length_mm: float


class CutSheet(Struct, frozen=True):
    """A sheet cut to blanks; ``count`` sheets are cut alike."""

    count: int
    blanks: tuple[Part, ...]
    left: tuple[Part, ...]
    cuts: tuple[Cut, ...]


class Plan(Struct, frozen=True):
    """How the sheets of one stock are cut, in one unit."""

    stock: Stock
    size: SheetSize
    unit: FirstUnit
    sheets: tuple[CutSheet, ...]


class CuttingTable(Struct, frozen=True):
    """``plans`` by stock, the author's unit first; a plan of the other unit follows where it
    is cut in another way or to other figures. ``others`` are pieces with curves, which a
    trimmer cannot cut."""

    rows: tuple[Row, ...]
    plans: tuple[Plan, ...]
    others: tuple[str, ...]
