"""From Shapely geometry to the paths of a display list."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from publisher.drawing.space_view.many import Geometries, many
from publisher.geometry.path import Line, Path, Point

_STRAIGHT_MM = 5e-4


def all_paths(
    geometries: Sequence[BaseGeometry] | Geometries, shift: Point = (0.0, 0.0)
) -> list[tuple[Path, ...]]:
    """For each geometry its rings and lines in a settled order and direction, needless points
    left out, moved by ``shift``."""
    if not len(geometries):
        return []
    given = many(geometries)
    settled = shapely.normalize(shapely.simplify(given, _STRAIGHT_MM))
    parts, of_part = shapely.get_parts(settled, return_index=True)
    found: list[tuple[Path, ...]] = [() for _ in geometries]
    solid = shapely.get_dimensions(parts) == 2
    drawn = np.flatnonzero(~solid & (shapely.get_num_coordinates(parts) > 1))
    rings, of_ring = shapely.get_rings(parts[solid], return_index=True)
    place = np.concatenate((np.flatnonzero(solid)[of_ring], drawn))
    order = np.argsort(place, kind="stable")
    lines = np.concatenate((rings, parts[drawn]))[order]
    owners = of_part[place[order]].tolist()
    points, line = shapely.get_coordinates(lines, return_index=True)
    placed = list(map(tuple, (points + shift).tolist()))
    bounds = np.searchsorted(line, np.arange(len(lines) + 1)).tolist()
    for owner, (start, end) in zip(owners, pairwise(bounds), strict=True):
        own = placed[start:end]
        closed = len(own) > 3 and own[0] == own[-1]
        found[owner] += (Path(tuple(map(Line, own, own[1:])), closed),)
    return found


def area_paths(area: BaseGeometry, shift: Point = (0.0, 0.0)) -> tuple[Path, ...]:
    """The rings of one area."""
    return all_paths([area], shift)[0]
