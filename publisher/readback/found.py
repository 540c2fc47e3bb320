"""What a reader found in a written file, in mm from the sheet's top left, y down."""

from __future__ import annotations

import math

from msgspec import Struct, field

from publisher.geometry.measure import Bounds
from publisher.geometry.path import Point


class FoundPath(Struct, frozen=True):
    """One path. ``copy`` is the id it stands under, ``role`` its layer's or group's name.

    ``points`` are the ends and middles of its segments, in order, ``each`` of them to a segment;
    ``curved_mm`` is the length
    of those that are arcs (or cubics, where the format has no arcs), ``shortest_mm`` the length
    of the shortest segment.
    """

    copy: str
    role: str
    closed: bool
    length_mm: float
    curved_mm: float
    bounds: Bounds
    points: tuple[Point, ...]
    shortest_mm: float = math.inf
    each: int = 3


class FoundSheet(Struct, frozen=True):
    """One file. ``sizes`` are all statements of the sheet's size that the file makes, each with
    what it is called and its width and height in mm. ``faults`` are sentences on what should
    not be there at all. ``loose`` says that the format knows neither copies nor paths: every
    path is one segment and stands under no copy."""

    sizes: tuple[tuple[str, float, float], ...]
    paths: tuple[FoundPath, ...]
    faults: tuple[str, ...] = field(default=())
    loose: bool = False


def joined(boxes: list[Bounds]) -> Bounds:
    """The bounds of several bounds."""
    return (
        min(b[0] for b in boxes),
        min(b[1] for b in boxes),
        max(b[2] for b in boxes),
        max(b[3] for b in boxes),
    )
