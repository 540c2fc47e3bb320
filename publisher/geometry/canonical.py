"""One way to write a ring: where it starts, which way it goes, no needless points."""

from __future__ import annotations

import math
from collections.abc import Iterable
from functools import lru_cache
from operator import itemgetter

from publisher.geometry.measure import signed_area
from publisher.geometry.path import Arc, Line, Path, Region, Segment, circle
from publisher.geometry.segments import SNAP_MM, reversed_path, same_circle


def _joined(a: Segment, b: Segment) -> Segment | None:
    """Both as one segment where they go on in the same line or on the same circle."""
    if isinstance(a, Arc):
        if isinstance(b, Arc) and a.clockwise == b.clockwise and same_circle(a, b):
            total = abs(a.sweep_deg) + abs(b.sweep_deg)
            if total < 360.0 - 1e-6:
                return Arc(a.start, b.end, a.centre, a.clockwise)
        return None
    if isinstance(b, Arc):
        return None
    ax, ay = a.end[0] - a.start[0], a.end[1] - a.start[1]
    bx, by = b.end[0] - b.start[0], b.end[1] - b.start[1]
    if ax * bx + ay * by <= 0.0:
        return None
    # How far the middle point strays from the line through the outer two.
    reach = math.dist(a.start, b.end)
    if abs(ax * by - ay * bx) / reach > SNAP_MM:
        return None
    return Line(a.start, b.end)


def _merged(segments: list[Segment], closed: bool) -> list[Segment]:
    kept: list[Segment] = []
    for segment in segments:
        one = _joined(kept[-1], segment) if kept else None
        if one is None:
            kept.append(segment)
        else:
            kept[-1] = one
    while closed and len(kept) > 2:
        one = _joined(kept[-1], kept[0])
        if one is None:
            break
        kept = [one, *kept[1:-1]]
    return kept


def _without_zero(segments: tuple[Segment, ...]) -> list[Segment]:
    kept: list[Segment] = []
    for segment in segments:
        near = math.dist(segment.start, segment.end) <= SNAP_MM
        if near and (isinstance(segment, Line) or segment.length_mm < 4.0 * SNAP_MM):
            continue
        if kept and segment.start != kept[-1].end:
            start = kept[-1].end
            segment = (
                Arc(start, segment.end, segment.centre, segment.clockwise)
                if isinstance(segment, Arc)
                else Line(start, segment.end)
            )
        kept.append(segment)
    return kept


def _full_circle(segments: list[Segment]) -> Path | None:
    first = segments[0]
    if not isinstance(first, Arc):
        return None
    for other in segments:
        if not isinstance(other, Arc) or other.clockwise != first.clockwise:
            return None
        if not same_circle(first, other):
            return None
    ring = circle(first.centre, first.radius_mm)
    return ring if first.clockwise else reversed_path(ring)


def _start_key(segment: Segment) -> tuple[float, float]:
    return (round(segment.start[1], 6) + 0.0, round(segment.start[0], 6) + 0.0)


def canonical_path(path: Path) -> Path:
    """Without zero lengths, straight runs and runs on one circle as one segment.

    A closed path starts at its topmost, of these its leftmost point; its direction stays.
    A whole circle is two arcs from its leftmost point.
    """
    segments = _without_zero(path.segments)
    if not segments:
        return path
    if not path.closed:
        return Path(tuple(_merged(segments, False)), False)
    whole = _full_circle(segments)
    if whole is not None:
        return whole
    # Begin at a corner that stays, so that a run over the seam is one run.
    merged = _merged(segments, True)
    first = min(range(len(merged)), key=lambda i: _start_key(merged[i]))
    return Path(tuple(merged[first:] + merged[:first]), True)


def ring_order(ring: Path) -> tuple[float, float, float]:
    """Sorts rings by where they start, then by size."""
    return (*_start_key(ring.segments[0]), abs(signed_area(ring)))


def oriented(ring: Path, clockwise: bool) -> Path:
    """The ring walked clockwise (or not) as seen."""
    return ring if (signed_area(ring) >= 0.0) == clockwise else reversed_path(ring)


@lru_cache(maxsize=4096)
def _as_hole(ring: Path) -> tuple[tuple[float, float, float], Path]:
    """Its place among others, and the ring as a hole is written. Remembered: a piece with
    hundreds of holes is cut again and again."""
    hole = canonical_path(oriented(ring, clockwise=False))
    return ring_order(hole), hole


def holes_in_order(rings: Iterable[Path]) -> tuple[Path, ...]:
    """Holes counter-clockwise and in order, every ring canonical."""
    return tuple(hole for _, hole in sorted(map(_as_hole, rings), key=itemgetter(0)))


def canonical_region(region: Region) -> Region:
    """Outer ring clockwise, holes counter-clockwise and in order, every ring canonical."""
    outer = canonical_path(oriented(region.outer, clockwise=True))
    return Region(outer, holes_in_order(region.holes))
