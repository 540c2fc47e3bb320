"""Pieces that are printed: artwork or a patterned fill with bleed, imposed for both sides.

Takes a pattern, the pictures beside it, what patterned papers look like and the trade; returns a
PDF for each printer's paper, with corner crosses and the cut lines apart. Reports
``artwork-doubtful``.
"""

from publisher.printed.artwork import read_artwork
from publisher.printed.types import Artwork, Fill, PrintedSheets
from publisher.printed.write import Written, fills_of, write_printed

__all__ = [
    "Artwork",
    "Fill",
    "PrintedSheets",
    "Written",
    "fills_of",
    "read_artwork",
    "write_printed",
]
