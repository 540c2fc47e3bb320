"""Paper on the two sides of a straight line."""

from __future__ import annotations

import math

from publisher.geometry.booleans import region_intersection
from publisher.geometry.path import Point, Region, polygon
from publisher.model.division import Division

_FAR_MM = 20_000.0


def sides_of(paper: Region, division: Division) -> tuple[tuple[Region, ...], tuple[Region, ...]]:
    """The part that keeps the tab, tab and all, and the other part."""
    return (
        region_intersection(paper, _strip(division, -_FAR_MM, division.tab_mm)),
        region_intersection(paper, _strip(division, 0.0, _FAR_MM)),
    )


def tab_of(paper: Region, division: Division) -> tuple[Region, ...]:
    """The tab itself: what both parts have."""
    return region_intersection(paper, _strip(division, 0.0, division.tab_mm))


def _strip(division: Division, low_mm: float, high_mm: float) -> Region:
    """All between two lines beside the dividing one, measured down from it, or to the right
    where it runs straight down."""
    (x, y), (x2, y2) = division.start, division.end
    length = math.dist(division.start, division.end)
    ux, uy = (x2 - x) / length, (y2 - y) / length
    nx, ny = -uy, ux
    if ny < -1e-9 or (abs(ny) <= 1e-9 and nx < 0.0):
        nx, ny = -nx, -ny

    def at(along: float, beside: float) -> Point:
        return (x + ux * along + nx * beside, y + uy * along + ny * beside)

    return Region(
        polygon(
            [
                at(-_FAR_MM, low_mm),
                at(_FAR_MM, low_mm),
                at(_FAR_MM, high_mm),
                at(-_FAR_MM, high_mm),
            ]
        )
    )
