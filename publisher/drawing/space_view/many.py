"""Many geometries at once."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from contextlib import suppress

import numpy as np
import numpy.typing as npt
import shapely
from shapely.geometry.base import BaseGeometry

Geometries = npt.NDArray[np.object_]
GRID_MM, _DECIMALS = 1e-4, 4
"""Areas are joined and cut on this grid. Off it, edges that all but coincide leave spikes of no
width, and now and then a union loses a whole part (seen with GEOS 3.14)."""

_SAME_MM2 = 0.01


def many(geometries: Iterable[BaseGeometry]) -> Geometries:
    """An array of geometries; of one that has parts, too, one entry."""
    listed = list(geometries)
    found = np.empty(len(listed), dtype=object)
    found[:] = listed
    return found


def united(areas: Iterable[BaseGeometry]) -> BaseGeometry:
    """The union of areas, on the grid."""
    found: BaseGeometry = shapely.union_all(many(areas), grid_size=GRID_MM)
    return found


def moved_to_grid(areas: Iterable[BaseGeometry]) -> Geometries:
    """Areas with their corners on the grid."""
    given = many(areas)
    points = np.round(shapely.get_coordinates(given), _DECIMALS)
    found: Geometries = shapely.set_coordinates(given, points)
    return found


def joined(areas: Iterable[BaseGeometry]) -> BaseGeometry:
    """The union of areas moved onto the grid, itself off it: three times quicker. Whoever asks
    must know its size from elsewhere, for it may have lost a part, or fail; and where areas lie
    side by side with different corners there may be slits without width between them, which
    close when it is taken from another area on the grid."""
    found: BaseGeometry = shapely.union_all(moved_to_grid(areas))
    return found


def joined_strips(areas: Sequence[BaseGeometry]) -> BaseGeometry:
    """The union of areas of which each has whole edges in common with the next, as the strips of
    bent paper have; quicker where they overlap nowhere."""
    with suppress(shapely.GEOSException):
        found = joined(areas)
        if abs(found.area - shapely.area(areas).sum()) < _SAME_MM2:
            return found
    return united(areas)
