"""Many geometries at once."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np
import numpy.typing as npt
from shapely.geometry.base import BaseGeometry

Geometries = npt.NDArray[np.object_]


def many(geometries: Iterable[BaseGeometry]) -> Geometries:
    """An array of geometries; of one that has parts, too, one entry."""
    listed = list(geometries)
    found = np.empty(len(listed), dtype=object)
    found[:] = listed
    return found
