"""Whether what was laid lies apart and on its sheet, from the shapes as they lie alone.

Knows nothing of how they came there: no layout is taken before it has passed here.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal

import shapely
from msgspec import Struct
from shapely.geometry import Polygon

from publisher.layout.kinds import Ring

TOLERANCE_MM = 0.003
TOUCH_MM2 = 1e-6
"""Shapes that only touch share less."""


class Fault(Struct, frozen=True):
    """``first`` and ``second`` count the shapes; ``by_mm`` is the gap that is missing, or how
    far the shape reaches beyond the sheet (then ``second`` is ``first``)."""

    kind: Literal["overlap", "too near", "off the sheet"]
    first: int
    second: int
    by_mm: float


def faults(
    shapes: Sequence[tuple[Ring, Sequence[Ring]]],
    width_mm: float,
    height_mm: float,
    gap_mm: float,
    tolerance_mm: float = TOLERANCE_MM,
) -> list[Fault]:
    """What is wrong with shapes (outer ring, holes) on a sheet that begins at 0, 0.

    A shape may lie in another's hole. Two shapes overlap when they share an area, by the
    exact intersection of their polygons, whatever the gap.
    """
    found: list[Fault] = []
    polygons = [Polygon(outer, holes) for outer, holes in shapes]
    for number, polygon in enumerate(polygons):
        x_min, y_min, x_max, y_max = polygon.bounds
        beyond = max(-x_min, -y_min, x_max - width_mm, y_max - height_mm)
        if beyond > tolerance_mm:
            found.append(Fault("off the sheet", number, number, beyond))
    tree = shapely.STRtree(polygons)
    near = tree.query(polygons, predicate="dwithin", distance=gap_mm + tolerance_mm)
    for a, b in sorted({(int(a), int(b)) for a, b in near.T if a < b}):
        if polygons[a].intersection(polygons[b]).area > TOUCH_MM2:
            found.append(Fault("overlap", a, b, gap_mm))
            continue
        missing = gap_mm - polygons[a].distance(polygons[b])
        if missing > tolerance_mm:
            found.append(Fault("too near", a, b, missing))
    return found
