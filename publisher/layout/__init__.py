"""Pieces on sheets, and the order in which they are cut.

Takes a pattern and the trade's sheets, gives one ``Sheet`` for each that a maker needs.
Reports ``piece-larger-than-sheet`` and ``sheet-unknown``.
"""

from publisher.layout.cache import LayoutCache, MemoryCache
from publisher.layout.lay_out import lay_out
from publisher.layout.place import on_sheet, placed_bounds
from publisher.layout.travel import CopyPaths, Cut, cut_order, travel_mm
from publisher.layout.types import Placed, Sheet

__all__ = [
    "CopyPaths",
    "Cut",
    "LayoutCache",
    "MemoryCache",
    "Placed",
    "Sheet",
    "cut_order",
    "lay_out",
    "on_sheet",
    "placed_bounds",
    "travel_mm",
]
