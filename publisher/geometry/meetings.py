"""Where many segments meet, and which points lie on them: all lines at once, arcs one by one."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, TypeAlias

from publisher.geometry.measure import segment_bounds
from publisher.geometry.path import Line, Point, Segment
from publisher.geometry.segments import crossings, is_on

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats: TypeAlias = NDArray[np.float64]
    Ints: TypeAlias = NDArray[np.int64]

AT_ONCE = 4_000_000
"""Pairs that are looked at together: some tens of megabytes."""
_PARALLEL = 1e-12
"""As ``segments.crossings`` takes it: a sine below which two lines count as parallel."""


def meetings(segments: Sequence[Segment], hair_mm: float) -> list[Point]:
    """What ``segments.crossings`` gives for every two of the segments."""
    import numpy as np  # nobody who only imports this room should wait for it

    if len(segments) < 2:
        return []
    boxes = np.array([segment_bounds(s) for s in segments])
    straight = np.array([isinstance(s, Line) for s in segments])
    ends = np.array([(*s.start, *s.end) for s in segments])
    found: list[Point] = []
    for first, second in _near_pairs(boxes, hair_mm):
        both = straight[first] & straight[second]
        points = _line_meetings(ends[first[both]], ends[second[both]], hair_mm)
        found += [(x, y) for x, y in points.tolist()]
        for i, j in zip(first[~both].tolist(), second[~both].tolist(), strict=True):
            found += crossings(segments[i], segments[j], hair_mm)
    return found


def _near_pairs(boxes: Floats, hair_mm: float) -> Iterator[tuple[Ints, Ints]]:
    """Pairs of boxes that touch, each once, some rows at a time."""
    import numpy as np

    count = len(boxes)
    rows = max(1, AT_ONCE // count)
    low, high = boxes[:, :2] - hair_mm, boxes[:, 2:]
    for begin in range(0, count, rows):
        part = slice(begin, begin + rows)
        near = (low[part, None, 0] <= high[None, :, 0]) & (low[None, :, 0] <= high[part, None, 0])
        near &= (low[part, None, 1] <= high[None, :, 1]) & (low[None, :, 1] <= high[part, None, 1])
        first, second = np.nonzero(near)
        first += begin
        once = first < second
        yield first[once], second[once]


def _line_meetings(a: Floats, b: Floats, hair_mm: float) -> Floats:
    """The points, one a row, where lines of two lists of one length meet in pairs."""
    import numpy as np

    along, beside = a[:, 2:] - a[:, :2], b[:, 2:] - b[:, :2]
    cross = along[:, 0] * beside[:, 1] - along[:, 1] * beside[:, 0]
    sizes = np.hypot(along[:, 0], along[:, 1]) * np.hypot(beside[:, 0], beside[:, 1])
    meet = np.abs(cross) > _PARALLEL * sizes
    a, b, along, beside, cross = a[meet], b[meet], along[meet], beside[meet], cross[meet]
    apart = b[:, :2] - a[:, :2]
    share = (apart[:, 0] * beside[:, 1] - apart[:, 1] * beside[:, 0]) / cross
    points: Floats = a[:, :2] + share[:, None] * along
    on_both = (_away(points, a) <= hair_mm) & (_away(points, b) <= hair_mm)
    return points[on_both]


def _away(points: Floats, lines: Floats) -> Floats:
    """How far points are from lines, which broadcast against each other."""
    import numpy as np

    start, along = lines[..., :2], lines[..., 2:] - lines[..., :2]
    square = (along**2).sum(axis=-1)
    share = ((points - start) * along).sum(axis=-1) / np.where(square > 0.0, square, 1.0)
    foot = start + np.clip(share, 0.0, 1.0)[..., None] * along
    away: Floats = np.hypot(points[..., 0] - foot[..., 0], points[..., 1] - foot[..., 1])
    return away


def points_on(
    segments: Sequence[Segment], points: Sequence[Point], hair_mm: float
) -> list[list[int]]:
    """For each segment the numbers of the points that lie on it, ends included, in order."""
    import numpy as np

    found: list[list[int]] = [[] for _ in segments]
    at = np.array(points).reshape(-1, 2)
    boxes = np.array([segment_bounds(s) for s in segments]).reshape(-1, 4)
    straight = np.array([isinstance(s, Line) for s in segments], bool)
    ends = np.array([(*s.start, *s.end) for s in segments]).reshape(-1, 4)
    rows = max(1, AT_ONCE // max(1, len(at)))
    for begin in range(0, len(segments), rows):
        low = boxes[begin : begin + rows, None, :2] - hair_mm
        high = boxes[begin : begin + rows, None, 2:] + hair_mm
        near = ((at[None] >= low) & (at[None] <= high)).all(axis=2)
        segment, point = np.nonzero(near)
        segment += begin
        on = straight[segment]
        on[on] = _away(at[point[on]], ends[segment[on]]) <= hair_mm
        on |= ~straight[segment]
        for n, i in zip(segment[on].tolist(), point[on].tolist(), strict=True):
            if straight[n] or is_on(segments[n], points[i], hair_mm):
                found[n].append(i)
    return found
