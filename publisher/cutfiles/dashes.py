"""A score or a line to tear along as real cuts, with paper left between them.

Dashes keep a whole gap from every outline and half a gap from every other line, measured
straight across and not along the line, so that a line that meets an edge at a flat angle
keeps its paper too. Between such places they are spread evenly: same dashes, same gaps, paper
at both ends, the same read from either end.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator, Mapping

from msgspec import Struct

from publisher.cutfiles.along import Along
from publisher.geometry.measure import bounds_meet, path_bounds, segment_bounds
from publisher.geometry.path import Path, Segment
from publisher.geometry.segments import nearest_on
from publisher.trade import Practice, Stock

LEAST_DASH_MM = 0.5
"""No blade cuts a shorter one cleanly. Common practice, no source."""
_STEP_MM = 0.02
_HAIR_MM = 1e-7
_TRIES = 3


class DashRule(Struct, frozen=True):
    """How long a cut and the paper after it are, in mm."""

    dash_mm: float
    gap_mm: float


def dash_rule(kind: str, stock: Stock, practice: Mapping[str, Practice]) -> DashRule:
    """For a "score" or a "perforation" in this stock: by length or by caliper, the larger."""

    def larger(part: str) -> float:
        least = practice[f"{kind}_{part}_least_mm"].value
        return max(least, practice[f"{kind}_{part}_calipers"].value * stock.caliper_mm)

    return DashRule(larger("dash"), larger("gap"))


def dashed(
    path: Path, rule: DashRule, edges: Iterable[Path], lines: Iterable[Path]
) -> tuple[Path, ...]:
    """The cuts of one line; none where it lies so close to an edge that none would hold.

    ``edges`` are all that is cut through, ``lines`` all other scores; the line itself is in
    neither. A line too short for one dash and two gaps has all three shortened alike; one that
    would stay whole is tried with half the gap and with a quarter.
    """
    along = Along(path)
    room = along.length_mm
    share = min(1.0, room / (rule.dash_mm + 2.0 * rule.gap_mm))
    dash, gap = rule.dash_mm * share, rule.gap_mm * share
    edge_list, line_list = tuple(edges), tuple(lines)
    for _ in range(_TRIES):
        near = (*_near(path, edge_list, gap), *_near(path, line_list, gap / 2.0))
        found = tuple(
            cut
            for start, end in _free(along, near, gap)
            for cut in _spread(along, start, end, dash, gap)
        )
        if found:
            return found
        gap /= 2.0
    return ()


def _spread(along: Along, start: float, end: float, dash: float, gap: float) -> Iterator[Path]:
    """As many dashes as make each most nearly as long as it should be."""
    room = end - start
    if room < min(dash, LEAST_DASH_MM):
        return
    count = max(1, round((room + gap) / (dash + gap)))
    length = (room - (count - 1) * gap) / count
    for number in range(count):
        at = start + number * (length + gap)
        yield along.stretch(at, at + length)


_Near = tuple[Segment, float]


def _near(path: Path, others: Iterable[Path], clear: float) -> Iterator[_Near]:
    """The segments that could come within ``clear`` of the path, and how near they may."""
    own = path_bounds(path)
    for other in others:
        if not bounds_meet(own, path_bounds(other), clear):
            continue
        for segment in other.segments:
            if bounds_meet(own, segment_bounds(segment), clear):
                yield segment, clear


def _free(along: Along, near: tuple[_Near, ...], gap: float) -> Iterator[tuple[float, float]]:
    """The stretches of the line that are clear of everything.

    Walking a millimetre brings nothing nearer by more than a millimetre, so the walk may step
    as far as there is to spare; only the changes are looked for closely.
    """
    half = gap / 2.0 if along.path.closed else gap
    here, last = half, along.length_mm - half

    def spare(at: float) -> float:
        point = along.point(at)
        gaps = (math.dist(nearest_on(s, point), point) - clear for s, clear in near)
        return min(gaps, default=math.inf)

    if here > last:
        return
    now = spare(here)
    began = here if now >= 0.0 else None
    while here < last:
        there = min(here + max(abs(now), _STEP_MM), last)
        then = spare(there)
        if (then >= 0.0) != (now >= 0.0):
            change = _change(spare, here, there, now >= 0.0)
            if began is None:
                began = change
            else:
                yield began, change
                began = None
        here, now = there, then
    if began is not None:
        yield began, last


def _change(spare: Callable[[float], float], low: float, high: float, free: bool) -> float:
    """Where ``spare`` changes its sign."""
    while high - low > _HAIR_MM:
        middle = (low + high) / 2.0
        if (spare(middle) >= 0.0) == free:
            low = middle
        else:
            high = middle
    return (low + high) / 2.0
