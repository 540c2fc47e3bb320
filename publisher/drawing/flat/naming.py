"""Finds room for the names of panels inside the panels. Coordinates are mm on paper."""

from __future__ import annotations

import numpy as np
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
_SHARES = np.array(
    sorted(((x, y) for x in _STEPS for y in _STEPS), key=lambda d: abs(d[0]) + abs(d[1]))
)
_OFF, _OFF_TURNED = (
    np.array(((0.0, 0.0), (0.0, _NUDGE_MM))),
    np.array(((0.0, 0.0), (_NUDGE_MM, 0.0))),
)


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
    label = _label(text, (0.0, 0.0), False, id)
    left, top, right, bottom = points_box(label_corners(label))
    for turned in (False, True):
        # turned by a quarter, what was to the right is above
        box = (top, -right, bottom, -left) if turned else (left, top, right, bottom)
        off = _OFF_TURNED if turned else _OFF
        centres = (((x0 + x1) / 2, (y0 + y1) / 2) + _SHARES * (x1 - x0, y1 - y0))[:, None, :] - off
        centres = centres.reshape(-1, 2)
        boxes = np.concatenate((centres, centres), axis=1) + box
        for k in np.flatnonzero(shapely.contains(room, shapely.box(*boxes.T))):
            place = (*boxes[k].tolist(),)
            if board.label_is_free(place, clear_mm=_EDGE_MM):
                board.labels.append(place)
                return _label(text, (*centres[k].tolist(),), turned, id)
    return None
