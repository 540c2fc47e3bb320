"""Which lines of a piece come near each other: all pairs asked for at once."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np
import shapely
from numpy.typing import NDArray

Whole = NDArray[np.intp]


def near_each_other(
    lines: Sequence[shapely.LineString], reach_mm: float
) -> Iterator[tuple[int, Whole]]:
    """For each line the later ones whose box is within reach of its own, where there are any."""
    if len(lines) < 2:
        return
    boxes = shapely.bounds(lines)
    wide = boxes + np.array((-reach_mm, -reach_mm, reach_mm, reach_mm))
    first, second = shapely.STRtree(lines).query(shapely.box(*wide.T))
    later = second > first
    first, second = first[later], second[later]
    for i in np.unique(first).tolist():
        yield i, np.sort(second[first == i])
