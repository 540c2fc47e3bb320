"""A corner turned up on a sheet that goes printed face down: there its face is seen.

The pattern seen through the paper tells the same, more quietly. The corner is turned up where
nothing lies behind it, for what is turned up leaves its place bare.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np
import shapely
from msgspec import Struct
from msgspec.structs import replace
from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from publisher.drawing.space_view.camera import Array
from publisher.drawing.space_view.faces import Scene, printed_plane
from publisher.drawing.space_view.ink import area_paths
from publisher.drawing.space_view.many import united
from publisher.drawing.space_view.projected import Projected
from publisher.drawing.space_view.stage import Stage
from publisher.drawing.space_view.strips import Detail
from publisher.drawing.types import Fill, Item, Stroke
from publisher.geometry.path import Point

_SIDE_MM = (3.2, 4.6)  # of what is turned up, least and most
_LEAST_SIDES = 4.5  # an edge of the sheet is at least so many times as long
_BARE_MM = 0.3  # round the place of the corner: the outline there goes, too
_OFF_MM = 0.5
_APART_MM = 7.0  # between the corner and what a circle shows
_SQUARE = 0.5  # cosine of the angle at a corner, at most, on paper


class TurnedCorner(Struct, frozen=True):
    """The corner of a sheet on paper: the place it leaves, and where it lies turned up."""

    item: Projected
    bare: Polygon
    turned: Polygon

    @property
    def area(self) -> BaseGeometry:
        return united([self.bare, self.turned])


def turned_corners(
    stage: Stage, scene: Scene, off: Sequence[BaseGeometry], details: Sequence[Detail]
) -> tuple[list[TurnedCorner], list[Detail]]:
    """The corners that are turned up, off arrows and lines, one on each flat sheet that travels
    printed face down; and the details without places beside them."""
    corners: list[TurnedCorner] = []
    left = list(details)
    for item, seen in zip(scene.items, scene.seen, strict=True):
        piece = item.actor.piece
        sheet = item.actor.body in stage.away and len(piece.facets) == 1
        if item.ghost or item.clear or not (sheet and piece.stock.patterned):
            continue
        if item.face == "front" or not isinstance(item.area, Polygon):
            continue
        others = united([*(o.area for o in scene.items if o is not item and not o.ghost), *off])
        free = [c for c in _corners(item) if c.bare.within(seen.buffer(0.1)) and _free(c, others)]
        found = [(_without(left, c), c) for c in free]
        fit = next(((d, c) for d, c in found if all(one.places for one in d)), None)
        if fit is not None:
            left = fit[0]
            corners.append(fit[1])
    return corners, left


def _corners(item: Projected) -> Iterator[TurnedCorner]:
    """The corners that may be turned up, the farthest from the viewer first."""
    outline = shapely.get_exterior_ring(item.area)
    ring = shapely.get_coordinates(shapely.remove_repeated_points(outline, 0.05))[:-1]
    for k in sorted(range(len(ring)), key=lambda k: (round(ring[k][1], 1), ring[k][0])):
        tip: Array = ring[k]
        sides = [ring[k - 1] - tip, ring[(k + 1) % len(ring)] - tip]
        lengths = [float(np.hypot(*side)) for side in sides]
        size = min(_SIDE_MM[1], min(lengths) / _LEAST_SIDES)
        if size < _SIDE_MM[0]:
            continue
        ways = [side / length for side, length in zip(sides, lengths, strict=True)]
        if abs(float(ways[0] @ ways[1])) > _SQUARE:
            continue
        ends = [tip + way * size for way in ways]
        bare = Polygon([tip, *ends])
        inner = ends[0] + ends[1] - tip
        if shapely.covers(item.area, shapely.Point(inner)):
            yield TurnedCorner(item, bare, Polygon([inner, *ends]))


def _free(corner: TurnedCorner, others: BaseGeometry) -> bool:
    return not shapely.dwithin(corner.area, others, _OFF_MM)


def _without(details: Sequence[Detail], corner: TurnedCorner) -> list[Detail]:
    area = corner.area
    return [
        replace(
            one,
            places=tuple(p for p in one.places if area.distance(shapely.Point(p)) > _APART_MM),
        )
        for one in details
    ]


def corner_items(corners: Sequence[TurnedCorner], shift: Point) -> Iterator[Item]:
    """The corners as items: their places bare, and each with its printed face."""
    for one in corners:
        actor = one.item.actor
        name = f"{actor.body}-corner".replace(" ", "-")
        tip, first, second, _ = shapely.get_coordinates(one.bare)
        inner = 2.0 * (first + second) - 3.0 * tip  # well beyond the crease
        keep = Polygon([first + (first - second), second + (second - first), inner])
        bare = shapely.difference(shapely.buffer(one.bare, _BARE_MM), keep)
        yield Fill("halo", area_paths(bare, shift), id=f"halo-{name}")
        rings = area_paths(one.turned, shift)
        stock = actor.piece.stock.name
        yield Fill("front", rings, stock, one.item.shade, f"face-{name}")
        plane = printed_plane(one.item, shift)
        yield Fill("pattern", rings, stock, one.item.shade, f"pattern-{name}", plane=plane)
        yield Stroke("outline", rings, f"outline-{name}")
