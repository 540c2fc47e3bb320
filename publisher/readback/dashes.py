"""Dashes against the score they stand for: on it, apart from each other, clear of all else."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from publisher.diagnostics import Diagnostic
from publisher.geometry.measure import distance_to_path
from publisher.geometry.path import Path, Point
from publisher.geometry.segments import nearest_on, point_at, share_at
from publisher.readback.expected import WantedCopy, WantedPath
from publisher.readback.found import FoundPath
from publisher.readback.told import differs, mm

STEP_MM = 0.5
LEAST_SHARE = 0.25
"""A line too near an edge for whole gaps may have a quarter of one, not less."""


@dataclass(frozen=True, slots=True)
class DashLimits:
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
            if all(distance_to_path(p, line.path) <= tolerance_mm for p in dash.points)
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
    free = _has_room(line.path, edges, others, gap)
    what = f"the {line.role} line of {copy.id} from {mm(line.bounds[0])} across"
    if not dashes:
        if free:
            yield differs(path, f"{what} has no dash", (("length_mm", line.length_mm),), copy)
        return
    least = gap if free else gap * LEAST_SHARE
    for clear, around in ((least, edges), (least / 2.0, others)):
        near = min(
            (distance_to_path(p, other) for d in dashes for p in d.points for other in around),
            default=math.inf,
        )
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


def _has_room(line: Path, edges: list[Path], others: list[Path], gap: float) -> bool:
    """Whether somewhere two points a step apart both lie clear of everything."""
    before = False
    for point in _points(line):
        clear = all(distance_to_path(point, edge) >= gap + 1e-3 for edge in edges) and all(
            distance_to_path(point, other) >= gap / 2.0 + 1e-3 for other in others
        )
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
