"""Lines, exact circular arcs, paths and regions."""

from __future__ import annotations

import math
from typing import TypeAlias, final

from msgspec import Struct

Point: TypeAlias = tuple[float, float]


class Line(Struct, frozen=True, gc=False):
    """A straight segment, in mm."""

    start: Point
    end: Point

    @property
    def length_mm(self) -> float:
        return math.dist(self.start, self.end)


class Arc(Struct, frozen=True, gc=False):
    """A circular arc of less than a full turn, in mm; a circle is two arcs.

    ``clockwise`` is as seen with y down (which is SVG's sweep flag 1).
    """

    start: Point
    end: Point
    centre: Point
    clockwise: bool

    @property
    def radius_mm(self) -> float:
        return math.dist(self.start, self.centre)

    @property
    def start_deg(self) -> float:
        """Direction from the centre to the start; 0 is right, 90 is down."""
        return math.degrees(
            math.atan2(self.start[1] - self.centre[1], self.start[0] - self.centre[0])
        )

    @property
    def sweep_deg(self) -> float:
        """Signed angle travelled, positive clockwise, in (-360, 360), never 0."""
        end = math.degrees(math.atan2(self.end[1] - self.centre[1], self.end[0] - self.centre[0]))
        turn = (end - self.start_deg) % 360.0
        if turn < 1e-9:
            turn = 360.0
        return turn if self.clockwise else turn - 360.0

    @property
    def length_mm(self) -> float:
        return self.radius_mm * math.radians(abs(self.sweep_deg))


Segment: TypeAlias = Line | Arc


@final
class Path(Struct, frozen=True, gc=False):
    """Segments end to end. A closed path ends where it starts, with no segment repeated."""

    segments: tuple[Segment, ...]
    closed: bool

    @property
    def start(self) -> Point:
        return self.segments[0].start

    @property
    def end(self) -> Point:
        return self.segments[-1].end

    @property
    def length_mm(self) -> float:
        return sum(s.length_mm for s in self.segments)


@final
class Region(Struct, frozen=True):
    """Paper: an outer ring, clockwise as seen, and holes, counter-clockwise."""

    outer: Path
    holes: tuple[Path, ...] = ()


def polygon(points: tuple[Point, ...] | list[Point]) -> Path:
    """A closed path of straight lines through the points, in the order given."""
    ring = list(points)
    return Path(
        tuple(Line(a, b) for a, b in zip(ring, ring[1:] + ring[:1], strict=True)), closed=True
    )


def circle(centre: Point, radius_mm: float) -> Path:
    """A clockwise circle as two arcs, from its leftmost point."""
    left = (centre[0] - radius_mm, centre[1])
    right = (centre[0] + radius_mm, centre[1])
    return Path((Arc(left, right, centre, True), Arc(right, left, centre, True)), closed=True)
