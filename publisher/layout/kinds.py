"""Pieces as the nesting sees them: polygons that are never less than the paper."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import TypeAlias

from msgspec import Struct

from publisher.geometry.canonical import canonical_region
from publisher.geometry.flatten import arc_points
from publisher.geometry.path import Arc, Path, Point, Region
from publisher.geometry.transform import rotated_point

FLAT_MM = 0.1
"""How far a polygon may stand out beyond its arcs."""

Ring: TypeAlias = tuple[Point, ...]


class Kind(Struct, frozen=True):
    """A shape to be laid ``copies`` times: rings without arcs, and the turns it may take.

    ``turns`` are degrees clockwise as seen. ``holes`` are the openings that other pieces may
    lie in.
    """

    outer: Ring
    holes: tuple[Ring, ...]
    turns: tuple[float, ...]
    copies: int = 1

    @property
    def area(self) -> float:
        return abs(ring_area(self.outer)) - sum(abs(ring_area(h)) for h in self.holes)


class Put(Struct, frozen=True):
    """A copy laid: its kind is turned about the origin of its own coordinates, then moved."""

    kind: int
    turn_deg: float
    x_mm: float
    y_mm: float


Sheets: TypeAlias = list[list[Put]]
"""What lies on each sheet, in mm from the top left of its usable part."""


class Room(Struct, frozen=True):
    """The usable part of a sheet, and the gap between pieces, in mm."""

    width_mm: float
    height_mm: float
    gap_mm: float


def kind_of(
    region: Region, turns: Sequence[float], copies: int = 1, tolerance_mm: float = FLAT_MM
) -> Kind:
    """The region with its arcs flattened outward, so that what holds for it holds for paper."""
    whole = canonical_region(region)
    return Kind(
        flattened_outward(whole.outer, tolerance_mm),
        tuple(flattened_outward(hole, tolerance_mm) for hole in whole.holes),
        tuple(turns),
        copies,
    )


def flattened_outward(ring: Path, tolerance_mm: float = FLAT_MM) -> Ring:
    """The points of a polygon that holds all paper of the ring, whose paper is on its right.

    An arc that bulges off the paper (clockwise) becomes tangents that meet beyond it, any
    other arc becomes chords; both stay within ``tolerance_mm`` of it.
    """
    points: list[Point] = []
    for segment in ring.segments:
        if not isinstance(segment, Arc):
            points.append(segment.start)
        elif segment.clockwise:
            points += _tangents(segment, tolerance_mm)
        else:
            points += arc_points(segment, tolerance_mm)
    kept: list[Point] = []
    for point in points:
        if not kept or math.dist(point, kept[-1]) > 1e-6:
            kept.append(point)
    while len(kept) > 1 and math.dist(kept[0], kept[-1]) <= 1e-6:
        kept.pop()
    return tuple(kept)


def _tangents(arc: Arc, tolerance_mm: float) -> list[Point]:
    """The start and the meeting points of tangents, each r (sec(t / 2) - 1) beyond the arc."""
    radius, sweep = arc.radius_mm, math.radians(arc.sweep_deg)
    step = 2.0 * math.acos(radius / (radius + tolerance_mm))
    count = max(1, math.ceil(abs(sweep) / step - 1e-9), math.ceil(abs(sweep) / 2.0))
    start, each = math.radians(arc.start_deg), sweep / count
    reach = radius / math.cos(each / 2.0)
    return [
        arc.start,
        *(
            (arc.centre[0] + reach * math.cos(angle), arc.centre[1] + reach * math.sin(angle))
            for angle in (start + each * (i + 0.5) for i in range(count))
        ),
    ]


def ring_area(ring: Ring) -> float:
    """Positive clockwise as seen (y down), in mm2: the shoelace formula."""
    return (
        sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(ring, ring[1:] + ring[:1], strict=True)) / 2.0
    )


def turned(ring: Ring, turn_deg: float) -> Ring:
    return tuple(rotated_point(p, turn_deg) for p in ring)


def extent(ring: Ring) -> tuple[float, float, float, float]:
    """x_min, y_min, x_max, y_max."""
    xs, ys = [p[0] for p in ring], [p[1] for p in ring]
    return min(xs), min(ys), max(xs), max(ys)


def boxes(kind: Kind) -> dict[float, tuple[float, float]]:
    """Width and height of the bounding box in each allowed turn."""
    found = {}
    for turn in kind.turns:
        x_min, y_min, x_max, y_max = extent(turned(kind.outer, turn))
        found[turn] = (x_max - x_min, y_max - y_min)
    return found
