"""Flat shapes of a piece carried to where its copy lies on the sheet."""

from __future__ import annotations

from publisher.geometry.measure import Bounds, path_bounds
from publisher.geometry.transform import Shape, rotated, translated
from publisher.layout.types import Placed
from publisher.model.types import Piece


def on_sheet(shape: Shape, piece: Piece, placed: Placed) -> Shape:
    """The shape, given in the piece's coordinates, in mm from the sheet's top left."""
    turned = path_bounds(rotated(piece.outline.outer, placed.turn_deg))
    return translated(
        rotated(shape, placed.turn_deg), placed.x_mm - turned[0], placed.y_mm - turned[1]
    )


def placed_bounds(piece: Piece, placed: Placed) -> Bounds:
    """x_min, y_min, x_max, y_max of the copy on its sheet."""
    return path_bounds(on_sheet(piece.outline.outer, piece, placed))
