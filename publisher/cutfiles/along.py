"""A path by the length walked along it: points and stretches."""

from __future__ import annotations

from bisect import bisect_right
from itertools import accumulate

from publisher.geometry.path import Path, Point, Segment
from publisher.geometry.segments import point_at, with_ends

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
