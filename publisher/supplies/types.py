"""What making a pattern takes. Lengths in mm, areas in mm2, shares from 0 to 1."""

from __future__ import annotations

from collections.abc import Mapping

from msgspec import Struct, field

from publisher.trade import SheetSize, Stock


class SheetUse(Struct, frozen=True):
    """Sheets of one stock and size, and the share of them that becomes pieces."""

    stock: Stock
    size: SheetSize
    count: int
    share: float


class Offcut(Struct, frozen=True):
    """A rectangle of a sheet that no piece needs. ``pieces`` are those of its stock that it is
    large enough for, ``thing`` a common thing of paper that it makes, or ""."""

    sheet: str
    stock: str
    width_mm: float
    height_mm: float
    pieces: tuple[str, ...]
    thing: str


class Supplies(Struct, frozen=True):
    """For making the pattern ``times`` times. ``glue_mm2`` is all that takes glue, ``line_mm``
    how long its lines and strips are, without mats that are glued all over."""

    times: int
    sheets: tuple[SheetUse, ...]
    glue_mm2: float
    line_mm: float


class Price(Struct, frozen=True):
    """What one ``per`` of a thing costs: "sheet", "100 cm2", "m" or "hour"."""

    name: str
    amount: float
    per: str
    source: str


class PriceList(Struct, frozen=True):
    """A workshop's own prices by name: stocks by theirs, "glue", "tape", "work"."""

    currency: str = ""
    prices: Mapping[str, Price] = field(default_factory=dict)


class CostLine(Struct, frozen=True):
    """One thing that is paid for: how much of its ``per``, and what that costs."""

    what: str
    quantity: float
    per: str
    amount: float


class Cost(Struct, frozen=True):
    """All that the price list knows; ``unpriced`` is what it does not."""

    times: int
    currency: str
    lines: tuple[CostLine, ...]
    unpriced: tuple[str, ...]

    @property
    def total(self) -> float:
        return sum(line.amount for line in self.lines)

    @property
    def each(self) -> float:
        return self.total / self.times
