"""Whether a ring meets itself anywhere but where its segments join."""

from __future__ import annotations

import itertools
import math

from publisher.geometry.path import Path, Segment
from publisher.geometry.segments import crossings, is_on

_NEAR_MM = 1e-5


def crosses_itself(ring: Path) -> bool:
    """True where two segments of a closed path cross, touch or run on each other, or where a
    segment has no length."""
    segments = ring.segments
    count = len(segments)
    if count < 2 or any(math.dist(s.start, s.end) < _NEAR_MM for s in segments):
        return True
    return any(
        _meet(segments[i], segments[j], follows=j == i + 1, closes=(i, j) == (0, count - 1))
        for i, j in itertools.combinations(range(count), 2)
    )


def _meet(a: Segment, b: Segment, *, follows: bool, closes: bool) -> bool:
    joints = ([a.end] if follows else []) + ([a.start] if closes else [])
    points = [
        *crossings(a, b),
        *(p for p in (b.start, b.end) if is_on(a, p, _NEAR_MM)),
        *(p for p in (a.start, a.end) if is_on(b, p, _NEAR_MM)),
    ]
    return any(all(math.dist(p, joint) > 10.0 * _NEAR_MM for joint in joints) for p in points)
