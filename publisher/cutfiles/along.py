"""A path by the length walked along it: points, corners, stretches, another start."""

from __future__ import annotations

import math
from bisect import bisect_right
from itertools import accumulate

from publisher.geometry.path import Path, Point, Segment
from publisher.geometry.segments import direction_at, point_at, with_ends

CORNER_DEG = 5.0
"""A smaller turn is no corner. Rule of this project."""
_HAIR_MM = 1e-9


class Along:
    """A path measured once, for many questions. Lengths in mm from its start."""

    def __init__(self, path: Path) -> None:
        self.path = path
        self._ends = list(accumulate(s.length_mm for s in path.segments))

    @property
    def length_mm(self) -> float:
        return self._ends[-1]

    def _at(self, along_mm: float) -> tuple[int, float]:
        """The segment at a length, and how far into it."""
        index = min(bisect_right(self._ends, along_mm), len(self._ends) - 1)
        before = self._ends[index - 1] if index else 0.0
        return index, along_mm - before

    def point(self, along_mm: float) -> Point:
        index, inside = self._at(along_mm)
        segment = self.path.segments[index]
        return point_at(segment, inside / segment.length_mm)

    def stretch(self, start_mm: float, end_mm: float) -> Path:
        """The open path between two lengths, the first one the smaller."""
        first, _ = self._at(start_mm)
        parts: list[Segment] = []
        for index in range(first, len(self.path.segments)):
            segment = self.path.segments[index]
            before = self._ends[index] - segment.length_mm
            if before >= end_mm - _HAIR_MM:
                break
            a = max(0.0, start_mm - before) / segment.length_mm
            b = min(1.0, (end_mm - before) / segment.length_mm)
            if (b - a) * segment.length_mm <= _HAIR_MM:
                continue
            whole = a <= 0.0 and b >= 1.0
            ends = point_at(segment, a), point_at(segment, b)
            parts.append(segment if whole else with_ends(segment, *ends))
        return Path(tuple(parts), closed=False)


def turn_deg(before: Segment, after: Segment) -> float:
    """By how much the way turns between two segments, 0 to 180."""
    ax, ay = direction_at(before, 1.0)
    bx, by = direction_at(after, 0.0)
    return abs(math.degrees(math.atan2(ax * by - ay * bx, ax * bx + ay * by)))


def corners(path: Path) -> tuple[int, ...]:
    """The segments of a closed path that start at a corner; all of them where it has none."""
    parts = path.segments
    found = tuple(i for i, s in enumerate(parts) if turn_deg(parts[i - 1], s) > CORNER_DEG)
    return found or tuple(range(len(parts)))


def from_segment(path: Path, index: int) -> Path:
    """A closed path begun at another of its segments."""
    return Path(path.segments[index:] + path.segments[:index], closed=True)
