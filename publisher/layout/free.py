"""Free places: where one more shape fits among those that lie, holes and all.

The places that a shape may not take are Minkowski sums with its mirror image, the no-fit
polygons of the literature, here with their holes.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from functools import partial
from typing import TypeAlias

import numpy as np
import shapely
from msgspec import Struct, field
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry

from publisher.layout.kinds import Kind, Put, Ring, extent, turned

Corners: TypeAlias = "np.ndarray[tuple[int, ...], np.dtype[np.float64]]"
"""n x 2."""
Spot: TypeAlias = tuple[float, float, Put]
"""Top and left of the box of what is put."""
CLEAR_MM = 0.002
"""Added to the gap, so that what is placed here passes any exact test of it."""
DUST_MM2 = 1e-3
GRID_MM = 1e-4
"""Unions are taken on this grid, without which thousands of slivers can defeat them."""


def no_fit(still: Polygon, moving: Sequence[BaseGeometry]) -> shapely.Geometry:
    """The shifts at which a shape of the convex parts ``moving`` overlaps ``still``.

    The Minkowski sum of ``still`` and the mirror image of the other. Of convex shapes it is
    the hull of the sums of their corners (de Berg et al., Computational Geometry, chapter 13).
    Else each part gives ``still`` moved by one of its points and all sums with an edge: while
    the part slides without crossing an edge, it lies all in or all out.
    """
    sums = [shape for part in moving for shape in _sums(still, -_corners(part))]
    return sums[0] if len(sums) == 1 else shapely.union_all(sums, grid_size=GRID_MM)


def _sums(still: Polygon, part: Corners) -> list[shapely.Geometry]:
    if is_convex(still):
        corners = _corners(still)[:, None] + part[None, :]
        return [shapely.MultiPoint(corners.reshape(-1, 2)).convex_hull]
    found: list[shapely.Geometry] = [shapely.transform(still, partial(np.add, part[0]))]
    for ring in (still.exterior, *still.interiors):
        points = shapely.get_coordinates(ring)
        edges = np.stack([points[:-1], points[1:]], axis=1)
        clouds = (edges[:, :, None] + part[None, None, :]).reshape(-1, 2)
        owners = np.repeat(np.arange(len(edges)), 2 * len(part))
        hulls = shapely.convex_hull(shapely.multipoints(clouds, indices=owners))
        found += np.asarray(hulls).tolist()
    return found


def _corners(polygon: BaseGeometry) -> Corners:
    return shapely.get_coordinates(shapely.get_exterior_ring(polygon))[:-1]


def is_convex(shape: BaseGeometry) -> bool:
    """Whether it is one convex polygon without holes."""
    if not isinstance(shape, Polygon) or shape.is_empty or shape.interiors:
        return False
    return bool(shape.convex_hull.area - shape.area <= 1e-9 * shape.area)


def convex_parts(polygon: Polygon) -> list[BaseGeometry]:
    """Convex polygons that make up the polygon without its holes: triangles, put together as
    far as they stay convex (Hertel and Mehlhorn 1983)."""
    whole = Polygon(polygon.exterior)
    if is_convex(whole):
        return [whole]
    triangles = shapely.get_parts(shapely.constrained_delaunay_triangles(whole))
    parts: list[BaseGeometry] = np.asarray(triangles).tolist()
    at = 0
    while at < len(parts):
        for other in range(at + 1, len(parts)):
            both = parts[at].area + parts[other].area
            hull = shapely.union(parts[at], parts[other]).convex_hull
            if hull.area - both <= 1e-7 * both:
                parts[at] = hull
                del parts[other]
                break
        else:
            at += 1
    return parts


class Free(Struct):
    """Looks for free places among shapes of these kinds, remembering their no-fit polygons.

    The first allowed place is taken: topmost, then leftmost, in the first turn that has one.
    """

    kinds: Sequence[Kind]
    gap_mm: float
    _polygons: dict[tuple[int, float], Polygon] = field(default_factory=dict)
    _grown: dict[tuple[int, float], Polygon] = field(default_factory=dict)
    _parts: dict[tuple[int, float], list[BaseGeometry]] = field(default_factory=dict)
    _no_fits: dict[tuple[int, float, int, float], shapely.Geometry] = field(default_factory=dict)

    def polygon(self, kind: int, turn: float) -> Polygon:
        key = (kind, turn)
        if key not in self._polygons:
            shape = self.kinds[kind]
            self._polygons[key] = Polygon(
                turned(shape.outer, turn), [turned(hole, turn) for hole in shape.holes]
            )
        return self._polygons[key]

    def no_fit(self, still: tuple[int, float], moving: tuple[int, float]) -> shapely.Geometry:
        """About the origins of both, the gap kept."""
        key = (*still, *moving)
        if key not in self._no_fits:
            if still not in self._grown:
                away = self.gap_mm + CLEAR_MM if self.gap_mm > 0.0 else 0.0
                self._grown[still] = self.polygon(*still).buffer(
                    away, join_style="mitre", mitre_limit=2.0
                )
            if moving not in self._parts:
                # Without its own holes: a ring is not put round what lies already.
                self._parts[moving] = convex_parts(self.polygon(*moving))
            self._no_fits[key] = no_fit(self._grown[still], self._parts[moving])
        return self._no_fits[key]

    def place(
        self,
        kind: int,
        window: BaseGeometry,
        laid: Iterable[Put],
        turns: Sequence[float] | None = None,
    ) -> Put | None:
        """A place for the kind in the convex window among what is laid, or None.

        ``window`` is in mm in the coordinates in which ``laid`` lies.
        """
        others = tuple(laid)
        best: Spot | None = None
        for turn in self.kinds[kind].turns if turns is None else turns:
            found = self._place(kind, turn, window, others)
            if found is not None and (best is None or _earlier(found, best)):
                best = found
        return best[2] if best else None

    def hole(self, ring: Ring) -> BaseGeometry:
        """What of a hole is free, the gap kept."""
        return Polygon(ring).buffer(-self.gap_mm - CLEAR_MM, join_style="mitre")

    def _place(
        self, kind: int, turn: float, window: BaseGeometry, laid: Sequence[Put]
    ) -> Spot | None:
        ring = turned(self.kinds[kind].outer, turn)
        x_min, y_min, x_max, y_max = extent(ring)
        left, top, right, bottom = window.bounds
        if x_max - x_min > right - left or y_max - y_min > bottom - top:
            return None
        shifts = _inner_fit(window, ring)
        if shifts.area <= DUST_MM2:
            return None
        taken = [
            shapely.transform(
                self.no_fit((put.kind, put.turn_deg), (kind, turn)),
                partial(np.add, (put.x_mm, put.y_mm)),
            )
            for put in laid
        ]
        if taken:
            covered = shapely.union_all(taken, grid_size=GRID_MM)
            shifts = shapely.difference(shifts, covered, grid_size=GRID_MM)
        # What is smaller is the dust of many unions.
        parts = [part for part in shapely.get_parts(shifts) if part.area > DUST_MM2]
        spots = [(round(y, 6), round(x, 6)) for x, y in shapely.get_coordinates(parts).tolist()]
        if not spots:
            return None
        y, x = min(spots)
        return (y + y_min, x + x_min, Put(kind, turn, x, y))


def _earlier(a: Spot, b: Spot) -> bool:
    """Higher up, or as high and farther left; hairs do not count."""
    return (round(a[0], 2), round(a[1], 2)) < (round(b[0], 2), round(b[1], 2))


def _inner_fit(window: BaseGeometry, ring: Ring) -> BaseGeometry:
    """The shifts that keep the ring in a convex window: all of its corners stay in it."""
    corners = shapely.get_coordinates(Polygon(ring).convex_hull)[:-1]
    shifts: BaseGeometry = window
    for number, corner in enumerate(corners):
        moved = shapely.transform(window, partial(np.add, -corner))
        shifts = shapely.intersection(shifts, moved) if number else moved
    return shifts
