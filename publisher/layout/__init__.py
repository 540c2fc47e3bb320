"""Pieces on sheets, and the order in which they are cut.

Takes a pattern and the trade's sheets, gives one ``Sheet`` for each that a maker needs.
Reports ``piece-larger-than-sheet``, ``sheet-larger-than-bed`` and ``sheet-unknown``.
"""

from importlib import import_module
from typing import TYPE_CHECKING

from publisher.layout.chosen import chosen_misfits, lay_chosen, on_bed, to_cut
from publisher.layout.room import misfits

if TYPE_CHECKING:
    from publisher.layout.cache import LayoutCache, MemoryCache
    from publisher.layout.laying import lay_out
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
    "chosen_misfits",
    "cut_order",
    "lay_chosen",
    "lay_out",
    "misfits",
    "on_bed",
    "on_sheet",
    "placed_bounds",
    "to_cut",
    "travel_mm",
]

_MODULES = {
    "CopyPaths": "travel",
    "Cut": "travel",
    "LayoutCache": "cache",
    "MemoryCache": "cache",
    "Placed": "types",
    "Sheet": "types",
    "cut_order": "travel",
    "lay_out": "laying",
    "on_sheet": "place",
    "placed_bounds": "place",
    "travel_mm": "travel",
}


def __getattr__(name: str) -> object:
    """A check asks whether pieces fit their sheets and no more: the rest is brought when asked
    for, since it takes as long to import as the check takes."""
    if name not in _MODULES:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    return getattr(import_module(f"{__name__}.{_MODULES[name]}"), name)
