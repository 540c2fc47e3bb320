"""Finds room for the names of panels inside the panels. Coordinates are mm on paper."""

from __future__ import annotations

from collections.abc import Iterator

import shapely
from shapely.geometry.base import BaseGeometry

from publisher.drawing.flat.blocks import SIZE_PT
from publisher.drawing.flat.board import Board
from publisher.drawing.text import cap_height_mm, label_corners
from publisher.drawing.types import Label
from publisher.geometry.path import Point

_EDGE_MM = 0.8
_STEPS = (0.0, 0.12, -0.12, 0.24, -0.24, 0.34, -0.34)


def _labels(text: str, centre: Point, id: str) -> Iterator[Label]:
    cap = cap_height_mm(SIZE_PT)
    yield Label(text, (centre[0], centre[1] + cap / 2), SIZE_PT, role="name", id=id)
    yield Label(text, (centre[0] + cap / 2, centre[1]), SIZE_PT, turn_deg=-90.0, role="name", id=id)


def place_name(board: Board, area: BaseGeometry, text: str, id: str) -> Label | None:
    """A label inside the area, as near its middle as it fits, level before upright.

    The place is entered on the board. None where the name does not fit.
    """
    room = area.buffer(-_EDGE_MM, join_style="mitre")
    if room.is_empty:
        return None
    shapely.prepare(room)
    x0, y0, x1, y1 = area.bounds
    centres = sorted(
        ((dx, dy) for dx in _STEPS for dy in _STEPS), key=lambda d: abs(d[0]) + abs(d[1])
    )
    for turned in (0, 1):
        for dx, dy in centres:
            centre = ((x0 + x1) / 2 + dx * (x1 - x0), (y0 + y1) / 2 + dy * (y1 - y0))
            label = list(_labels(text, centre, id))[turned]
            corners = label_corners(label)
            xs, ys = [p[0] for p in corners], [p[1] for p in corners]
            box = (min(xs), min(ys), max(xs), max(ys))
            if room.contains(shapely.box(*box)) and board.label_is_free(box):
                board.labels.append(box)
                return label
    return None
