"""The values of layout: pieces on sheets."""

from __future__ import annotations

from msgspec import Struct

from publisher.trade import SheetSize, Stock


class Placed(Struct, frozen=True):
    """One copy on a sheet: top left of its bounding box as placed, mm from the sheet's top
    left; ``turn_deg`` is clockwise as seen, about the piece, before it is moved there."""

    piece: str
    copy: int
    x_mm: float
    y_mm: float
    turn_deg: float

    @property
    def id(self) -> str:
        """Fit for ids in files: "sleeve mat", 1 is "sleeve-mat-1"."""
        return f"{self.piece.replace(' ', '-')}-{self.copy}"


class Sheet(Struct, frozen=True):
    """One sheet of one stock. ``name`` is fit for file names ("card-1")."""

    name: str
    stock: Stock
    size: SheetSize
    placed: tuple[Placed, ...]
