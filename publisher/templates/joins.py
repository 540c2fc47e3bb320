"""Where the tiles of a large piece meet: join lines, crosses, and the name of the next part."""

from __future__ import annotations

from publisher.geometry.path import Line, Path, Point
from publisher.templates.canvas import Canvas
from publisher.templates.strip import JOIN_GREY, JOIN_MM, JOIN_WIDTH_MM, PT
from publisher.templates.types import Tile, tile_name

ARM_MM = 2.5
SHARES = (0.2, 0.5, 0.8)


def draw_joins(canvas: Canvas, tile: Tile) -> None:
    """The middle of every shared strip: the same line and the same crosses on both parts."""
    x0, y0, x1, y1 = tile.clip
    half = tile.overlap_mm / 2
    sides = (
        (0, -1, (x0 + half, y0), (x0 + half, y1)),
        (0, 1, (x1 - half, y0), (x1 - half, y1)),
        (-1, 0, (x0, y0 + half), (x1, y0 + half)),
        (1, 0, (x0, y1 - half), (x1, y1 - half)),
    )
    for down, across, start, end in sides:
        place = (tile.row + down, tile.column + across)
        if place not in tile.there:
            continue
        name = tile_name(*place)
        upright = across != 0
        with canvas.artifact():
            canvas.stroke([Path((Line(start, end),), False)], JOIN_WIDTH_MM, JOIN_MM, JOIN_GREY)
            for share in SHARES:
                at = (
                    start[0] + share * (end[0] - start[0]),
                    start[1] + share * (end[1] - start[1]),
                )
                canvas.stroke(cross(at), JOIN_WIDTH_MM)
        # On the side of this part, so that it stays readable when the parts lie together.
        aside = -(down + across) * 1.0
        shift = 1.2 if aside < 0 else 1.2 + 2.1
        with canvas.tagged("P"):
            if upright:
                at = (start[0] + (-1.2 if aside < 0 else shift), y0 + 0.35 * (y1 - y0))
                canvas.words(f"{name} joins here", at, size_pt=PT, turn_deg=-90.0, anchor="middle")
            else:
                at = (x0 + 0.35 * (x1 - x0), start[1] + (-1.2 if aside < 0 else shift))
                canvas.words(f"{name} joins here", at, size_pt=PT, anchor="middle")


def cross(at: Point, arm_mm: float = ARM_MM) -> list[Path]:
    """A plain cross of two lines."""
    x, y = at
    return [
        Path((Line((x - arm_mm, y), (x + arm_mm, y)),), False),
        Path((Line((x, y - arm_mm), (x, y + arm_mm)),), False),
    ]
