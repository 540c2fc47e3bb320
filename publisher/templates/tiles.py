"""A piece that is larger than a page, in parts that share a strip with their neighbours."""

from __future__ import annotations

import math

import shapely

from publisher.geometry.measure import Bounds
from publisher.geometry.shapely_bridge import to_shapely
from publisher.layout import Placed, on_sheet
from publisher.model.types import Piece
from publisher.templates.types import Tile

PAPER_MM2 = 0.5
"""A tile with less of the piece in it is not printed."""


def tiled(piece: Piece, area: Bounds, overlap_mm: float) -> list[tuple[Placed, Tile]]:
    """The parts of a piece, each with where the piece's box lies for it.

    The piece is turned a quarter where that takes fewer pages. Parts are all of one size, so
    that no sliver is left over, and lie in the middle of ``area``.
    """
    return min((_tiled(piece, area, overlap_mm, turn) for turn in (0.0, 90.0)), key=len)


def _tiled(
    piece: Piece, area: Bounds, overlap_mm: float, turn_deg: float
) -> list[tuple[Placed, Tile]]:
    x_min, y_min, x_max, y_max = piece.bounds
    width, height = x_max - x_min, y_max - y_min
    if turn_deg:
        width, height = height, width
    wide, high = area[2] - area[0], area[3] - area[1]
    columns, across = _parts(width, wide, overlap_mm)
    rows, down = _parts(height, high, overlap_mm)
    left, top = area[0] + (wide - across) / 2, area[1] + (high - down) / 2
    clip = (left, top, left + across, top + down)
    paper = to_shapely(on_sheet(piece.outline, piece, Placed(piece.name, 1, 0.0, 0.0, turn_deg)))
    places = []
    for row in range(rows):
        for column in range(columns):
            x, y = column * (across - overlap_mm), row * (down - overlap_mm)
            part = shapely.box(x, y, x + across, y + down)
            if paper.intersection(part).area > PAPER_MM2:
                places.append((row, column, left - x, top - y))
    there = tuple((row, column) for row, column, _, _ in places)
    return [
        (
            Placed(piece.name, 1, x, y, turn_deg),
            Tile(row, column, rows, columns, there, clip, overlap_mm),
        )
        for row, column, x, y in places
    ]


def _parts(length: float, room: float, overlap_mm: float) -> tuple[int, float]:
    """How many parts a length takes, and how long each is."""
    count = max(1, math.ceil((length - overlap_mm) / (room - overlap_mm) - 1e-9))
    return count, (length + (count - 1) * overlap_mm) / count
