"""What a circle is to show: a detail, the places for it, and how many times larger."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any

import numpy as np
import shapely
from msgspec import Struct
from shapely.geometry.base import BaseGeometry

from publisher.drawing.space_view.camera import Array
from publisher.geometry.path import Point

LEAST_MM = 8.0
"""A line that is marked, or all of a glue zone, is told from this length on."""
TIMES = (5.0, 4.0, 3.0, 2.5, 2.0)
LENGTH_WANTED_MM = 13.0  # so long, or so wide, is what a circle shows
WIDTH_WANTED_MM = 5.0
INWARD_MM = 2.4  # from the end of a strip to the middle of the circle, as the circle shows it
_LEAST_SHOWN_MM = 2.5  # so wide at least, or a part of it is shown larger
ALIKE = 1.5  # what is wider by no more looks alike
_SAME_WIDTH = 0.1
_TIP_SHARE = 0.6  # a corner that shows less of a strip than that is a tip of it


class Detail(Struct, frozen=True):
    """Something too small, the places at any of which it may be shown, and how many times larger
    it is to be drawn. ``kind``: "fold", "cut" or "glue"."""

    kind: str
    places: tuple[Point, ...]
    times: float


def times_for(size_mm: float, wanted_mm: float) -> float:
    """The largest round factor by which a size becomes no larger than wanted; at least 2."""
    return next((t for t in TIMES if t * size_mm <= wanted_mm), TIMES[-1])


class Strip(Struct, frozen=True):
    """An area on paper, how wide it is in truth, whether it is ``small`` on paper, and whether
    it is seen or lies behind."""

    piece: str
    flat_mm: float
    area: BaseGeometry
    small: bool
    seen: bool


def strip_width(area: BaseGeometry) -> float:
    """How wide a strip is that has this area and is as long round: of a rectangle, exactly."""
    quarter = area.length / 4.0
    return float(quarter - math.sqrt(max(0.0, quarter**2 - area.area)))


def told_once(strips: Sequence[Strip], kind: str) -> list[Detail]:
    """Small strips, those that look alike once; without those of which one that is as wide in
    truth is told, for it lies otherwise to the eye."""
    told = [strip for strip in strips if not strip.small]
    small = [
        one
        for one in strips
        if one.small
        and not any(
            one.piece == other.piece
            and other.seen >= one.seen
            and abs(one.flat_mm - other.flat_mm) <= _SAME_WIDTH * one.flat_mm
            for other in told
        )
    ]
    found = []
    while small:
        least = min(strip_width(strip.area) for strip in small)
        alike = [s for s in small if strip_width(s.area) <= ALIKE * least]
        small = [s for s in small if strip_width(s.area) > ALIKE * least]
        shown = [s for s in alike if s.seen] or alike
        found.append(of_strips([s.area for s in shown], kind))
    return found


def of_strips(areas: Sequence[BaseGeometry], kind: str) -> Detail:
    """All of a short one, or else a corner."""
    longest = max(length(area) for area in areas)
    least = min(strip_width(area) for area in areas)
    times = times_for(longest, LENGTH_WANTED_MM)
    if longest < LEAST_MM and times * least >= _LEAST_SHOWN_MM:
        return Detail(kind, tuple(middle(area) for area in areas), times)
    times = times_for(least, WIDTH_WANTED_MM)
    spots = [spot for area in areas for spot in _corners(area, INWARD_MM / times)]
    most = max(shown for _, shown in spots)
    places = [place for place, shown in spots if shown >= _TIP_SHARE * most]
    return Detail(kind, tuple(places), times)


def _corners(area: BaseGeometry, inward: float) -> list[tuple[Point, float]]:
    """Places in a strip at its corners, and how much of it is near each."""
    box = shapely.get_coordinates(shapely.minimum_rotated_rectangle(area))[:4]
    ends: Any = shapely.shortest_line(area, shapely.points(box))
    near = shapely.buffer(shapely.points(shapely.get_coordinates(ends)[::2]), 2.0 * inward)
    there: Any = shapely.intersection(area, near)
    return [(_point(shapely.centroid(part)), float(part.area)) for part in there]


def middle(geometry: BaseGeometry) -> Point:
    x0, y0, x1, y1 = geometry.bounds
    return ((x0 + x1) / 2.0, (y0 + y1) / 2.0)


def _point(geometry: BaseGeometry) -> Point:
    (x, y), *_ = shapely.get_coordinates(geometry).tolist()
    return (x, y)


def length(area: BaseGeometry) -> float:
    """The longer side of the smallest rectangle round an area."""
    corners: Array = shapely.get_coordinates(shapely.minimum_rotated_rectangle(area))
    if len(corners) < 3:
        return 0.0
    return float(np.hypot(*(corners[1:3] - corners[:2]).T).max())
