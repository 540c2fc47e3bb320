"""Finds room for the names of panels inside the panels. Coordinates are mm on paper."""

from __future__ import annotations

import shapely
from shapely.geometry.base import BaseGeometry

from publisher.drawing.flat.blocks import SIZE_PT
from publisher.drawing.flat.board import Board
from publisher.drawing.flat.scene import points_box
from publisher.drawing.text import cap_height_mm, descent_mm, label_corners
from publisher.drawing.types import Label
from publisher.geometry.path import Point

_EDGE_MM = 0.45

# Up, where the letters that reach below the line need the room.
_NUDGE_MM = (descent_mm(SIZE_PT) - 0.08 * cap_height_mm(SIZE_PT)) / 2
_STEPS = (0.0, 0.12, -0.12, 0.24, -0.24, 0.34, -0.34)


def _label(text: str, centre: Point, turned: bool, id: str) -> Label:
    half = cap_height_mm(SIZE_PT) / 2
    if turned:
        at = (centre[0] + half, centre[1])
        return Label(text, at, SIZE_PT, turn_deg=-90.0, role="name", id=id)
    return Label(text, (centre[0], centre[1] + half), SIZE_PT, role="name", id=id)


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
            middle = ((x0 + x1) / 2 + dx * (x1 - x0), (y0 + y1) / 2 + dy * (y1 - y0))
            for nudge in (0.0, _NUDGE_MM):
                left, up = (nudge, 0.0) if turned else (0.0, nudge)
                centre = (middle[0] - left, middle[1] - up)
                label = _label(text, centre, bool(turned), id)
                box = points_box(label_corners(label))
                inside = room.contains(shapely.box(*box))
                if inside and board.label_is_free(box, clear_mm=_EDGE_MM):
                    board.labels.append(box)
                    return label
    return None
