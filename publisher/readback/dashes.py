"""Dashes against the score they stand for: on it, apart from each other, clear of all else."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise

from msgspec import Struct

from publisher.diagnostics import Diagnostic
from publisher.geometry.measure import Bounds, distance_to_path, path_bounds
from publisher.geometry.path import Path, Point
from publisher.geometry.segments import nearest_on, point_at, share_at
from publisher.readback.expected import WantedCopy, WantedPath
from publisher.readback.found import FoundPath, joined
from publisher.readback.told import differs, mm

STEP_MM = 0.5
LEAST_SHARE = 0.25
"""A line too near an edge for whole gaps may have a quarter of one, not less."""


class DashLimits(Struct, frozen=True):
    """How long a dash and a gap are in this stock, before a short line shortens both."""

    dash_mm: float
    gap_mm: float


def compared_dashes(
    path: str,
    copy: WantedCopy,
    wanted: Sequence[WantedPath],
    written: Sequence[FoundPath],
    limits: DashLimits,
    tolerance_mm: float,
) -> Iterator[Diagnostic]:
    """What is wrong with the dashes of one role of one copy."""
    own: dict[int, list[FoundPath]] = {n: [] for n in range(len(wanted))}
    for dash in written:
        on = [
            n
            for n, line in enumerate(wanted)
            if _within(dash.bounds, line.bounds, tolerance_mm)
            and all(distance_to_path(p, line.path) <= tolerance_mm for p in dash.points)
        ]
        if dash.closed or not on:
            x, y = dash.bounds[:2]
            yield differs(
                path,
                f"a dash of {copy.id} from {mm(x)} across and {mm(y)} down lies on no score",
                (("x_mm", x), ("y_mm", y), ("length_mm", dash.length_mm)),
                copy,
            )
        else:
            own[on[0]].append(dash)
    for number, line in enumerate(wanted):
        yield from _compared_line(path, copy, line, own[number], limits, tolerance_mm)


def _compared_line(
    path: str,
    copy: WantedCopy,
    line: WantedPath,
    dashes: list[FoundPath],
    limits: DashLimits,
    tolerance_mm: float,
) -> Iterator[Diagnostic]:
    share = min(1.0, line.length_mm / (limits.dash_mm + 2.0 * limits.gap_mm))
    gap = limits.gap_mm * share
    edges = [w.path for w in copy.paths if w.role == "cut"]
    others = [w.path for w in copy.paths if w.role not in ("cut", "glue") and w is not line]
    free = _has_room(line, edges, others, gap)
    what = f"the {line.role} line of {copy.id} from {mm(line.bounds[0])} across"
    if not dashes:
        if free:
            yield differs(path, f"{what} has no dash", (("length_mm", line.length_mm),), copy)
        return
    least = gap if free else gap * LEAST_SHARE
    for clear, around in ((least, edges), (least / 2.0, others)):
        near = _nearest(dashes, around, clear)
        if near < clear - tolerance_mm:
            yield differs(
                path,
                f"a dash of {what} comes within {mm(near)} of another line, not {mm(clear)}",
                (("near_mm", near), ("least_mm", clear)),
                copy,
            )
    spans = sorted(
        (min(ends), max(ends))
        for dash in dashes
        for ends in [(_along(line.path, dash.points[0]), _along(line.path, dash.points[-1]))]
    )
    paper = [b[0] - a[1] for a, b in pairwise(spans)]
    if not line.path.closed:
        paper += [spans[0][0], line.length_mm - spans[-1][1]]
    if min(paper, default=math.inf) < least - 2.0 * tolerance_mm:
        yield differs(
            path,
            f"the dashes of {what} leave {mm(min(paper))} of paper, not {mm(least)}",
            (("left_mm", min(paper)), ("least_mm", least)),
            copy,
        )


def _within(inner: Bounds, outer: Bounds, more_mm: float) -> bool:
    return (
        inner[0] >= outer[0] - more_mm
        and inner[1] >= outer[1] - more_mm
        and inner[2] <= outer[2] + more_mm
        and inner[3] <= outer[3] + more_mm
    )


def _beside(box: Bounds, paths: Sequence[Path], reach_mm: float) -> list[Path]:
    """The segments that could come within ``reach_mm`` of a box, each as a path."""
    found = []
    for path in paths:
        for segment in path.segments:
            own = Path((segment,), closed=False)
            x_min, y_min, x_max, y_max = path_bounds(own)
            if (
                x_min <= box[2] + reach_mm
                and box[0] - reach_mm <= x_max
                and y_min <= box[3] + reach_mm
                and box[1] - reach_mm <= y_max
            ):
                found.append(own)
    return found


def _nearest(dashes: Sequence[FoundPath], around: Sequence[Path], clear: float) -> float:
    """How near a dash comes to other lines, as far as that is nearer than ``clear``."""
    segments = _beside(joined([dash.bounds for dash in dashes]), around, clear)
    return min(
        (
            distance_to_path(point, segment)
            for dash in dashes
            for segment in _beside(dash.bounds, segments, clear)
            for point in dash.points
        ),
        default=math.inf,
    )


def _has_room(line: WantedPath, edges: list[Path], others: list[Path], gap: float) -> bool:
    """Whether somewhere two points a step apart both lie clear of everything."""
    near = [(s, gap + 1e-3) for s in _beside(line.bounds, edges, gap)]
    near += [(s, gap / 2.0 + 1e-3) for s in _beside(line.bounds, others, gap)]
    before = False
    for point in _points(line.path):
        clear = all(distance_to_path(point, segment) >= least for segment, least in near)
        if clear and before:
            return True
        before = clear
    return False


def _points(line: Path) -> Iterator[Point]:
    for segment in line.segments:
        count = max(2, math.ceil(segment.length_mm / STEP_MM))
        for number in range(count + 1):
            yield point_at(segment, number / count)


def _along(line: Path, point: Point) -> float:
    """How far along the line a point on it lies, in mm."""
    before, best = 0.0, (math.inf, 0.0)
    for segment in line.segments:
        off = math.dist(nearest_on(segment, point), point)
        share = min(1.0, max(0.0, share_at(segment, point)))
        best = min(best, (off, before + share * segment.length_mm))
        before += segment.length_mm
    return best[1]
