"""Arrows that pass behind paper: what lies behind is not drawn.

The path of an arrow lies in space as the paper does; a stretch of it with paper in front of it
is cut out of the arrow. An arrow whose head would be cut is drawn on top instead: an arrow
without a head says nothing.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import numpy.typing as npt
import shapely
from shapely import LineString
from shapely.geometry.base import BaseGeometry

from publisher.drawing.space_view.arrows import (
    SHORTEST_MM,
    ArrowKind,
    ArrowShape,
    arrow,
    distances,
)
from publisher.drawing.space_view.camera import Array
from publisher.drawing.space_view.many import many, united
from publisher.drawing.space_view.projected import Projected

_BEHIND_MM = 0.6  # on paper; nearer than this the arrow lies on the facet
_SIDE_MM = 3.0  # more than half the width of any arrow with its halo
_SCRAP_MM2 = 6.0  # a bit of an arrow smaller than this, with its halo, says nothing
_DOTS_MM = 2.0  # from a tail: there the dots of a mountain fold's arrow are
_HEAD = 0.4  # the last part of the path, which must be seen


def hidden_samples(
    path: Array, items: Sequence[Projected], seen: Sequence[BaseGeometry]
) -> tuple[npt.NDArray[np.bool_], list[int]]:
    """Which points of a path (n, 3: paper x, y, nearness) have seen paper in front of them,
    and the facets that this is."""
    own = [
        k
        for k, item in enumerate(items)
        if item.plane is not None and not (item.ghost or item.clear or seen[k].is_empty)
    ]
    planes = np.array([items[k].plane for k in own]).reshape(-1, 3)
    depth = path[:, :2] @ planes[:, :2].T + planes[:, 2]
    areas = many(seen[k] for k in own)
    over = shapely.contains_xy(areas[None, :], path[:, 0, None], path[:, 1, None])
    behind = over & (depth - path[:, 2, None] > _BEHIND_MM)
    return behind.any(axis=1), [own[k] for k in np.flatnonzero(behind.any(axis=0))]


def shown_part(
    kind: ArrowKind, path: Array, items: Sequence[Projected], seen: Sequence[BaseGeometry]
) -> ArrowShape:
    """The arrow along a path without what lies behind paper; the whole of it where that takes the
    head. Where it takes the dots at a tail, they are where the arrow comes out."""
    shape = arrow([(x, y) for x, y in path[:, :2].tolist()], kind)
    hidden, facets = hidden_samples(path, items, seen)
    if not facets or hidden[int(len(path) * (1.0 - _HEAD)) :].any():
        return shape
    spans = [
        LineString(path[k : k + 2, :2]).buffer(_SIDE_MM, cap_style="flat")
        for k in np.flatnonzero(hidden[:-1] & hidden[1:])
    ]
    if not spans:
        return shape
    far = distances(path[:, :2])
    first, last = np.flatnonzero(hidden)[[0, -1]]
    if kind == "mountain" and far[first] < _DOTS_MM and far[-1] - far[last] >= SHORTEST_MM:
        return arrow([(x, y) for x, y in path[last:, :2].tolist()], kind)
    cover = shapely.intersection(united(spans), united(seen[k] for k in facets))
    halos = shapely.get_parts(shapely.difference(shape.halo, cover))
    kept = united(h for h in halos if h.area > _SCRAP_MM2)
    ink = shapely.get_parts(shapely.difference(shape.ink, cover))
    return ArrowShape(united(p for p in ink if shapely.intersects(p, kept)), kept)
