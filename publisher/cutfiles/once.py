"""Edges that two pieces share, cut once.

Where pieces lie edge to edge the second cut would only tear what the first has parted. Lines
are compared with lines; arcs, which no two outlines share without overlapping, stay.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from publisher.geometry.path import Line, Path, Point, Segment

NEAR_MM = 0.01
"""Lines nearer than this are one cut: what written files are held to."""
LEAST_MM = 0.05
"""A shorter overlap is a touch of corners."""


class CutOnce:
    """What has been cut of a sheet so far."""

    def __init__(self) -> None:
        self._done: list[Line] = []

    def left(self, path: Path) -> tuple[Path, ...]:
        """What of the path is still to be cut; it counts as cut from then on."""
        stretches: list[list[Segment]] = [[]]
        touched = False
        for segment in path.segments:
            if not isinstance(segment, Line):
                stretches[-1].append(segment)
                continue
            here = segment.start
            uncut = list(self._uncut(segment))
            touched = touched or uncut != [(segment.start, segment.end)]
            for start, end in uncut:
                if start != here and stretches[-1]:
                    stretches.append([])
                stretches[-1].append(Line(start, end))
                here = end
            if here != segment.end and stretches[-1]:
                stretches.append([])
        self._done += [s for s in path.segments if isinstance(s, Line)]
        if not touched:
            return (path,)
        return tuple(_rejoined([s for s in stretches if s], path.closed))

    def _uncut(self, line: Line) -> Iterator[tuple[Point, Point]]:
        """The stretches of a line that no earlier cut covers."""
        length = line.length_mm
        ux, uy = (line.end[0] - line.start[0]) / length, (line.end[1] - line.start[1]) / length

        def place(p: Point) -> tuple[float, float]:
            x, y = p[0] - line.start[0], p[1] - line.start[1]
            return x * ux + y * uy, abs(x * uy - y * ux)

        covered = []
        for other in self._done:
            (a, off_a), (b, off_b) = place(other.start), place(other.end)
            low, high = max(0.0, min(a, b)), min(length, max(a, b))
            if max(off_a, off_b) <= NEAR_MM and high - low > LEAST_MM:
                covered.append((low, high))
        here = 0.0
        for low, high in sorted(covered):
            if low - here > LEAST_MM:
                yield self._point(line, here / length), self._point(line, low / length)
            here = max(here, high)
        if length - here > LEAST_MM:
            yield self._point(line, here / length), line.end

    @staticmethod
    def _point(line: Line, share: float) -> Point:
        (x1, y1), (x2, y2) = line.start, line.end
        if share <= 0.0:
            return line.start
        return (x1 + share * (x2 - x1), y1 + share * (y2 - y1))


def _rejoined(stretches: list[list[Segment]], closed: bool) -> Iterator[Path]:
    """The stretches as open paths, the one over the ring's seam in one."""
    if not stretches:
        return
    first, last = stretches[0], stretches[-1]
    if closed and len(stretches) > 1 and math.dist(last[-1].end, first[0].start) <= NEAR_MM:
        stretches = [[*last, *first], *stretches[1:-1]]
    for parts in stretches:
        yield Path(tuple(parts), closed=False)
