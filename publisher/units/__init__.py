"""Lengths in words and figures: the one formatter, and the reader of figures in prose.

Inside the program a length is a float in mm. Here it becomes what a maker reads, and back.
"""

from publisher.units.figures import Figure, figures_in
from publisher.units.numbers import (
    MM_PER_INCH,
    MM_PER_POINT,
    FirstUnit,
    Kind,
    Ruler,
    angle,
    as_printed_mm,
    both,
    both_sizes,
    kind_for,
    number,
    on_the_mark,
    one,
    one_sizes,
    time_words,
)

__all__ = [
    "MM_PER_INCH",
    "MM_PER_POINT",
    "Figure",
    "FirstUnit",
    "Kind",
    "Ruler",
    "angle",
    "as_printed_mm",
    "both",
    "both_sizes",
    "figures_in",
    "kind_for",
    "number",
    "on_the_mark",
    "one",
    "one_sizes",
    "time_words",
]
