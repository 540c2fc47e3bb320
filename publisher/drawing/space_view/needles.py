"""Areas that run out into a needle or are slit: their outline goes somewhere and back beside
itself. That is what is left between edges that all but fall on each other."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import numpy.typing as npt
import shapely
from shapely.geometry.base import BaseGeometry

from publisher.drawing.space_view.many import Geometries

_BLUNT_MM = 1e-3  # corners nearer to each other are one
_SLENDER = 0.02  # tangent of the angle of a needle


def needled(areas: Sequence[BaseGeometry] | Geometries) -> npt.NDArray[np.bool_]:
    """Which areas have a needle or a slit; among them those whose true corners are as sharp."""
    parts, owner = shapely.get_parts(areas, return_index=True)
    rings, part = shapely.get_rings(parts, return_index=True)
    points, ring = shapely.get_coordinates(rings, return_index=True)
    closing = np.ones(len(ring), dtype=bool)  # the last point of a ring is its first
    closing[:-1] = ring[1:] != ring[:-1]
    points, ring = points[~closing], ring[~closing]
    far = np.abs(points - points[_beside(ring, -1)]).max(axis=1, initial=0.0) > _BLUNT_MM
    points, ring = points[far], ring[far]
    ahead, back = points[_beside(ring, 1)] - points, points[_beside(ring, -1)] - points
    same_way = (ahead * back).sum(axis=1)
    aside = np.abs(ahead[:, 0] * back[:, 1] - ahead[:, 1] * back[:, 0])
    found = np.zeros(len(areas), dtype=bool)
    found[owner[part[ring[(same_way > 0) & (aside < _SLENDER * same_way)]]]] = True
    return found


def _beside(ring: npt.NDArray[np.intp], way: int) -> npt.NDArray[np.intp]:
    """The place of the next point of the same ring (1) or of the one before (-1), round and
    round."""
    count = np.bincount(ring)[ring] if len(ring) else ring
    first = np.searchsorted(ring, ring)
    return np.asarray(first + (np.arange(len(ring)) - first + way) % count)
