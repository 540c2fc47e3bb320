"""The one formatter: every number that a maker reads is written here.

Three kinds. *Ruled*: what is measured with a ruler, inches as fractions to 1/16, metric to
0.5 mm. *Thin*: caliper, slot, ease and the like, to 0.001 in and 0.05 mm. *Standard*: a
published size, as published.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from math import gcd
from typing import Literal, TypeAlias

from msgspec import Struct

MM_PER_INCH = 25.4
"""Exact by definition (international yard and pound agreement, 1959)."""

MM_PER_POINT = MM_PER_INCH / 72
"""The point of PDF and CSS: 1/72 in."""

Kind: TypeAlias = Literal["ruled", "thin", "standard"]
FirstUnit: TypeAlias = Literal["mm", "in"]

RULED_MM = 0.5
RULED_PARTS_OF_INCH = 16
THIN_MM = 0.05
THIN_INCH = 0.001
SMALLEST_RULED_MM = 2.0
"""Below this no ruler helps: a length that is nobody's standard is written thin."""


SAME_MM = 1e-4
FINER_PARTS_OF_INCH = 32


class Ruler(Struct, frozen=True):
    """The unit that is printed first, and lengths that are printed otherwise than by rounding to
    the nearest mark, because so the thing fits: (unit, mm, mm as printed)."""

    first: FirstUnit = "mm"
    chosen: tuple[tuple[FirstUnit, float, float], ...] = ()

    def on_mark_mm(self, mm: float, unit: FirstUnit) -> float | None:
        """What is printed for a length in place of what rounding gives; None for most."""
        for own, length, printed in self.chosen:
            if own == unit and abs(length - mm) < SAME_MM:
                return printed
        return None


def on_the_mark(unit: FirstUnit, *lengths_mm: float) -> Ruler:
    """A ruler that shows these lengths, which lie on its marks already."""
    return Ruler(unit, tuple((unit, mm, mm) for mm in lengths_mm))


def kind_for(mm: float) -> Kind:
    """How a length prints when nothing else is known of it: thin below 2 mm, else ruled."""
    return "thin" if 0 < abs(mm) < SMALLEST_RULED_MM else "ruled"


def both(mm: float, *, kind: Kind = "ruled", first: FirstUnit | Ruler = "mm") -> str:
    """In both units, the author's first: ``12 mm (1/2 in)``."""
    ruler, second = _both_units(first)
    shown = one(mm, kind=kind, unit=ruler.first, ruler=ruler)
    return f"{shown} ({one(mm, kind=kind, unit=second, ruler=ruler)})"


def one(
    mm: float, *, kind: Kind = "ruled", unit: FirstUnit = "mm", ruler: Ruler | None = None
) -> str:
    """In one unit: ``12 mm`` or ``1/2 in``."""
    return f"{_figure(mm, kind, unit, ruler)} {unit}"


def both_sizes(
    parts_mm: Sequence[float], *, kind: Kind = "ruled", first: FirstUnit | Ruler = "mm"
) -> str:
    """Two or three measures: ``120 × 80 mm (4 3/4 × 3 1/8 in)``."""
    ruler, second = _both_units(first)
    return (
        f"{one_sizes(parts_mm, kind=kind, unit=ruler.first, ruler=ruler)} "
        f"({one_sizes(parts_mm, kind=kind, unit=second, ruler=ruler)})"
    )


def one_sizes(
    parts_mm: Sequence[float],
    *,
    kind: Kind = "ruled",
    unit: FirstUnit = "mm",
    ruler: Ruler | None = None,
) -> str:
    """Two or three measures in one unit: ``120 × 80 mm``. A depth too small for a ruler is
    written thin: ``85.5 × 54 × 0.75 mm``."""
    kinds = [kind_for(mm) if kind == "ruled" else kind for mm in parts_mm]
    figures = (_figure(mm, own, unit, ruler) for mm, own in zip(parts_mm, kinds, strict=True))
    return " × ".join(figures) + f" {unit}"


def _both_units(first: FirstUnit | Ruler) -> tuple[Ruler, FirstUnit]:
    ruler = first if isinstance(first, Ruler) else Ruler(first)
    return ruler, "in" if ruler.first == "mm" else "mm"


def as_printed_mm(mm: float, *, kind: Kind = "ruled", unit: FirstUnit = "mm") -> float:
    """What a maker measures who goes by the printed figure, in mm."""
    kind = _kind_that_shows(mm, kind, unit)
    if kind == "standard":
        return float(_standard_value(mm, unit))
    if unit == "mm":
        return _rounded(mm, RULED_MM if kind == "ruled" else THIN_MM)
    step = 1 / RULED_PARTS_OF_INCH if kind == "ruled" else THIN_INCH
    return _rounded(mm / MM_PER_INCH, step) * MM_PER_INCH


def angle(degrees: float) -> str:
    """``90°``, to a tenth of a degree."""
    return f"{number(_rounded(degrees, 0.1), 1)}°"


def time_words(seconds: float) -> str:
    """``30 seconds``, ``90 minutes``, ``2.5 hours``: to a tenth of the unit that reads best."""
    whole = round(seconds)
    if whole < 120 and whole % 60:
        return _counted(whole, "second")
    if whole < 7200 and whole % 3600:
        return _counted(whole / 60, "minute")
    return _counted(whole / 3600, "hour")


def _counted(amount: float, unit: str) -> str:
    text = number(amount, 1)
    return f"{text} {unit}" if text == "1" else f"{text} {unit}s"


def number(value: float, decimals: int = 3) -> str:
    """A plain number without needless zeros: ``2``, ``0.333``."""
    text = f"{_rounded(value, 10.0**-decimals):.{decimals}f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


def _figure(mm: float, kind: Kind, unit: FirstUnit, ruler: Ruler | None = None) -> str:
    kind = _kind_that_shows(mm, kind, unit)
    if kind == "standard":
        return _standard_text(mm, unit)
    chosen = ruler.on_mark_mm(mm, unit) if ruler is not None and kind == "ruled" else None
    printed = as_printed_mm(mm, kind=kind, unit=unit) if chosen is None else chosen
    if unit == "mm":
        return number(printed, 2)
    if kind == "thin":
        return number(printed / MM_PER_INCH, 3)
    return _fraction(printed / MM_PER_INCH)


def _kind_that_shows(mm: float, kind: Kind, unit: FirstUnit) -> Kind:
    """A ruled length that the ruler would show as nothing is written thin."""
    step = RULED_MM if unit == "mm" else MM_PER_INCH / RULED_PARTS_OF_INCH
    if kind == "ruled" and abs(mm) > 1e-9 and _rounded(mm, step) == 0:
        return "thin"
    return kind


def _rounded(value: float, step: float) -> float:
    """To the nearest step, halves away from zero, whole steps free of binary dust."""
    count = math.floor(abs(value) / step + 0.5 + 1e-9)
    whole = round(1 / step)
    near = count / whole if abs(whole * step - 1) < 1e-9 else count * step
    return math.copysign(near, value) if near else 0.0


def _fraction(inches: float) -> str:
    """``5 1/4``: whole inches and sixteenths in lowest terms; thirty-seconds where it is on no
    sixteenth."""
    sign = "-" if inches < 0 else ""
    parts = RULED_PARTS_OF_INCH
    if abs(abs(inches) * parts - round(abs(inches) * parts)) > 1e-3:
        parts = FINER_PARTS_OF_INCH
    whole, part = divmod(round(abs(inches) * parts), parts)
    if part == 0:
        return f"{sign}{whole}"
    common = gcd(part, parts)
    fraction = f"{part // common}/{parts // common}"
    return f"{sign}{whole} {fraction}" if whole else f"{sign}{fraction}"


def _on_a_sixteenth(mm: float) -> bool:
    sixteenths = mm / MM_PER_INCH * RULED_PARTS_OF_INCH
    return abs(sixteenths - round(sixteenths)) * MM_PER_INCH / RULED_PARTS_OF_INCH < 0.005


def _standard_value(mm: float, unit: FirstUnit) -> float:
    if unit == "mm":
        return _rounded(mm, 0.01)
    if _on_a_sixteenth(mm):
        return _rounded(mm / MM_PER_INCH, 1 / RULED_PARTS_OF_INCH) * MM_PER_INCH
    return _rounded(mm / MM_PER_INCH, 0.001) * MM_PER_INCH


def _standard_text(mm: float, unit: FirstUnit) -> str:
    if unit == "mm":
        return number(mm, 2)
    if _on_a_sixteenth(mm):
        return _fraction(_standard_value(mm, "in") / MM_PER_INCH)
    return number(mm / MM_PER_INCH, 3)
