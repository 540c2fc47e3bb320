"""A sheet's picture: the size it says it has, ink where the lines are and nowhere else.

Unpacked by Pillow. The lines are drawn once more here, from the model, as wide as they may be.
"""

from __future__ import annotations

import io
import math
from collections.abc import Iterator
from itertools import pairwise

from publisher.diagnostics import Diagnostic
from publisher.geometry.flatten import flattened
from publisher.geometry.measure import distance_to_path
from publisher.geometry.path import Point
from publisher.layout import Sheet
from publisher.readback.expected import WantedCopy
from publisher.readback.told import differs, mm

PER_INCH = 300
MM_PER_PX = 25.4 / PER_INCH
DARK = 128
REACH_MM = 0.25
"""From a line's middle to the edge of its ink, and a pixel more."""
STEP_MM = 1.0
MOST = 5000
"""So many points are measured one by one; more are no rounding."""


def compared_png(
    path: str, sheet: Sheet, wanted: tuple[WantedCopy, ...], data: bytes, reach_mm: float
) -> Iterator[Diagnostic]:
    """What is wrong with the picture; ``reach_mm`` is how far cuts may reach off their lines.

    Raises whatever Pillow raises on bytes that are no picture.
    """
    import numpy as np
    from PIL import Image, ImageChops, ImageDraw  # only where pictures are written

    with Image.open(io.BytesIO(data)) as opened:
        said = opened.info.get("dpi", (0.0, 0.0))
        picture = opened.convert("L")
    if max(abs(d - PER_INCH) for d in said) > 0.01:
        yield differs(path, f"the picture says {said[0]} points to the inch, not {PER_INCH}")
    for what, pixels, size in (
        ("wide", picture.width, sheet.size.width_mm),
        ("high", picture.height, sheet.size.height_mm),
    ):
        if abs(pixels * MM_PER_PX - size) > MM_PER_PX:
            yield differs(
                path,
                f"the picture is {mm(pixels * MM_PER_PX)} {what}, the sheet {mm(size)}",
                (("written_mm", pixels * MM_PER_PX), ("sheet_mm", size)),
            )

    def px(point: Point) -> Point:
        # Pixel centres lie half a pixel in.
        return (point[0] / MM_PER_PX - 0.5, point[1] / MM_PER_PX - 0.5)

    ink = picture.point(lambda grey: 255 if grey < DARK else 0)
    room = Image.new("L", picture.size, 0)
    draw = ImageDraw.Draw(room)
    width = 2 * math.ceil((REACH_MM + reach_mm) / MM_PER_PX) + 1
    dark = np.asarray(ink) > 0
    for copy in wanted:
        for line in copy.paths:
            points = flattened(line.path)
            points += points[:1] if line.path.closed else []
            draw.line([px(p) for p in points], fill=255, width=width)
            for point in points:
                # A wide line's ends and joints are square: round them off.
                x, y = px(point)
                half = width / 2
                draw.ellipse((x - half, y - half, x + half, y + half), fill=255)
            if line.role == "cut":
                bare = next((p for p in _along(points) if not _is_inked(dark, px(p))), None)
                if bare is not None:
                    yield differs(
                        path,
                        f"a cut of {copy.id} has no ink at {mm(bare[0])} across and "
                        f"{mm(bare[1])} down",
                        (("x_mm", bare[0]), ("y_mm", bare[1])),
                        copy,
                    )
    # Pillow rounds wide lines to whole points: what it leaves over is measured.
    rows, columns = np.nonzero(np.asarray(ImageChops.subtract(ink, room)))
    left = zip(columns.tolist(), rows.tolist(), strict=True)
    points_left = [((c + 0.5) * MM_PER_PX, (r + 0.5) * MM_PER_PX) for c, r in left]
    stray = next(
        (p for p in points_left[:MOST] if not _is_near(p, wanted, REACH_MM + reach_mm)), None
    )
    if stray is None and len(points_left) > MOST:
        stray = points_left[MOST]
    if stray is not None:
        x, y = stray
        yield differs(
            path,
            f"there is ink where no line is, at {mm(x)} across and {mm(y)} down",
            (("x_mm", x), ("y_mm", y)),
        )


def _is_near(point: Point, wanted: tuple[WantedCopy, ...], reach_mm: float) -> bool:
    x, y = point
    return any(
        box[0] - reach_mm <= x <= box[2] + reach_mm
        and box[1] - reach_mm <= y <= box[3] + reach_mm
        and distance_to_path(point, line.path) <= reach_mm
        for copy in wanted
        for line in copy.paths
        for box in (line.bounds,)
    )


def _along(points: list[Point]) -> Iterator[Point]:
    for a, b in pairwise(points):
        count = max(1, math.ceil(math.dist(a, b) / STEP_MM))
        for number in range(count):
            share = (number + 0.5) / count
            yield (a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share)


def _is_inked(dark: object, at: Point) -> bool:
    """Whether a pixel at the point, or one beside it, is dark."""
    import numpy as np

    assert isinstance(dark, np.ndarray)
    x, y = round(at[0]), round(at[1])
    return bool(dark[max(0, y - 1) : y + 2, max(0, x - 1) : x + 2].any())
