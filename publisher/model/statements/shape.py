"""A shape before it has its place."""

from __future__ import annotations

import math
from collections.abc import Callable

from msgspec import Struct
from msgspec.structs import replace

from publisher.geometry.measure import path_bounds
from publisher.geometry.path import Line, Point, Region
from publisher.geometry.transform import rotated


class Shape(Struct, frozen=True):
    """A shape about its middle (0, 0); with ``fixed`` it stands where its points say, and
    ``middle`` is that place. ``width_mm`` and ``height_mm`` are what the author measured.
    ``more`` are further parts, such as letters; ``frame`` is what is placed where that is not
    the bounds of the first part."""

    word: str
    region: Region
    width_mm: float
    height_mm: float
    fixed: bool = False
    middle: Point = (0.0, 0.0)
    more: tuple[Region, ...] = ()
    frame: Region | None = None

    @property
    def box(self) -> tuple[float, float]:
        """Across and down, as it lies."""
        x0, y0, x1, y1 = path_bounds((self.frame or self.region).outer)
        return x1 - x0, y1 - y0

    def extent(self, way: Point) -> float:
        """How much of a line of this unit direction it takes up, in mm."""
        upright = rotated(self.frame or self.region, -math.degrees(math.atan2(way[1], way[0])))
        x0, _, x1, _ = path_bounds(upright.outer)
        return x1 - x0

    def through(self, change: Callable[[Region], Region]) -> Shape:
        """The shape with all its parts changed."""
        frame = None if self.frame is None else change(self.frame)
        more = tuple(change(r) for r in self.more)
        return replace(self, region=change(self.region), more=more, frame=frame)


def straight_corners(region: Region) -> tuple[Point, ...] | None:
    """The corners of a shape of straight lines; None where it has an arc or a hole."""
    if region.holes or not all(isinstance(s, Line) for s in region.outer.segments):
        return None
    return tuple(s.start for s in region.outer.segments)
