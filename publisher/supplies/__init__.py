"""What making a pattern takes: sheets and how well they are used, rests, glue, substitutes, cost.

Takes a pattern, its sheets, the trade and the text of a workshop's price list; returns figures
for one or for a batch. Reports what is wrong with ``site/prices.toml``.
"""

from publisher.supplies.adhesive import glue_area_mm2, glued_mats
from publisher.supplies.offcuts import offcuts
from publisher.supplies.prices import FILE, cost, read_prices
from publisher.supplies.quantities import TIMES, batch, batches, substitutes, supplies
from publisher.supplies.types import Cost, Offcut, PriceList, Supplies

__all__ = [
    "FILE",
    "TIMES",
    "Cost",
    "Offcut",
    "PriceList",
    "Supplies",
    "batch",
    "batches",
    "cost",
    "glue_area_mm2",
    "glued_mats",
    "offcuts",
    "read_prices",
    "substitutes",
    "supplies",
]
