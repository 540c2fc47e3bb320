"""In which order a sheet's lines are scored and cut, and where each of them begins.

Scores come first, while the sheet is whole. Then a piece's inner cuts come before its own
outline, a piece that lies in another's hole before that hole, and a small outline before a
much larger one beside it, which holds it firm till then. Within that the travel is kept
short. All of this is common practice, no source.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Literal, TypeAlias

from msgspec import Struct

from publisher.geometry.measure import path_bounds, signed_area, winding
from publisher.geometry.path import Path, Point
from publisher.geometry.segments import direction_at, reversed_path
from publisher.layout.tour import tour
from publisher.layout.walk import Stop

CORNER_DEG = 5.0
STARTS = 12
BESIDE_MM = 10.0
MUCH_LARGER = 4.0

Work: TypeAlias = Literal["score", "inner", "outline"]


class CopyPaths(Struct, frozen=True):
    """The lines of one copy, in mm from the sheet's top left. ``inner`` are openings and
    slits; ``outline`` is closed."""

    outline: Path
    inner: tuple[Path, ...] = ()
    scores: tuple[Path, ...] = ()


class Cut(Struct, frozen=True):
    """One line in its turn: ``path`` begins where the tool goes down. ``copy`` and ``number``
    say which line of which copy it is."""

    copy: int
    work: Work
    number: int
    path: Path


def cut_order(copies: Sequence[CopyPaths], start: Point = (0.0, 0.0)) -> tuple[Cut, ...]:
    """All lines of all copies, each once, in the order of work; the tool begins at ``start``.

    Closed paths keep their sense and begin at a corner, where they have one, else between two
    segments; open ones may be turned round.
    """
    scores = [
        Cut(c, "score", n, path)
        for c, copy in enumerate(copies)
        for n, path in enumerate(copy.scores)
    ]
    done = _in_turn(scores, [()] * len(scores), start)
    if done:
        start = done[-1].path.end
    cuts = [
        Cut(c, "inner", n, path)
        for c, copy in enumerate(copies)
        for n, path in enumerate(copy.inner)
    ]
    cuts += [Cut(c, "outline", 0, copy.outline) for c, copy in enumerate(copies)]
    return tuple(done + _in_turn(cuts, _waits(copies, cuts), start))


def travel_mm(cuts: Sequence[Cut], start: Point = (0.0, 0.0)) -> float:
    """How far the tool goes without cutting, the way back left out."""
    here, total = start, 0.0
    for cut in cuts:
        total += math.dist(here, cut.path.start)
        here = cut.path.end
    return total


def _in_turn(cuts: Sequence[Cut], waits: Sequence[tuple[int, ...]], start: Point) -> list[Cut]:
    choices = [_ways(cut.path) for cut in cuts]
    stops = [
        Stop(tuple((path.start, path.end) for path in ways), after)
        for ways, after in zip(choices, waits, strict=True)
    ]
    found = []
    for number, way in tour(stops, start):
        cut = cuts[number]
        found.append(Cut(cut.copy, cut.work, cut.number, choices[number][way]))
    return found


def _waits(copies: Sequence[CopyPaths], cuts: Sequence[Cut]) -> list[tuple[int, ...]]:
    """For each cut the numbers of those that must come before it."""
    outline_of = {cut.copy: n for n, cut in enumerate(cuts) if cut.work == "outline"}
    boxes = [path_bounds(copy.outline) for copy in copies]
    areas = [abs(signed_area(copy.outline)) for copy in copies]
    waits: list[set[int]] = [set() for _ in cuts]
    for number, cut in enumerate(cuts):
        if cut.work == "inner":
            waits[outline_of[cut.copy]].add(number)
            if not cut.path.closed:
                continue
            hole = path_bounds(cut.path)
            for other, box in enumerate(boxes):
                inside = (
                    hole[0] <= box[0]
                    and hole[1] <= box[1]
                    and box[2] <= hole[2]
                    and box[3] <= hole[3]
                )
                if inside and winding(copies[other].outline.start, cut.path) != 0:
                    waits[number].add(outline_of[other])
    for small, large in _beside(boxes, areas):
        waits[outline_of[large]].add(outline_of[small])
    return [tuple(sorted(wait)) for wait in waits]


def _beside(
    boxes: Sequence[tuple[float, float, float, float]], areas: Sequence[float]
) -> list[tuple[int, int]]:
    """(small, large): copies whose boxes are near, one much larger than the other."""
    found = []
    order = sorted(range(len(boxes)), key=lambda n: boxes[n][0])
    for at, a in enumerate(order):
        for b in order[at + 1 :]:
            if boxes[b][0] > boxes[a][2] + BESIDE_MM:
                break
            if boxes[b][1] > boxes[a][3] + BESIDE_MM or boxes[a][1] > boxes[b][3] + BESIDE_MM:
                continue
            if areas[b] >= MUCH_LARGER * areas[a]:
                found.append((a, b))
            elif areas[a] >= MUCH_LARGER * areas[b]:
                found.append((b, a))
    return found


def _ways(path: Path) -> tuple[Path, ...]:
    if not path.closed:
        return (path, reversed_path(path))
    segments = path.segments
    corners = [
        n
        for n in range(len(segments))
        if _turn_deg(direction_at(segments[n - 1], 1.0), direction_at(segments[n], 0.0))
        > CORNER_DEG
    ] or list(range(len(segments)))
    if len(corners) > STARTS:
        corners = [corners[i * len(corners) // STARTS] for i in range(STARTS)]
    return tuple(Path(segments[n:] + segments[:n], closed=True) for n in corners)


def _turn_deg(a: Point, b: Point) -> float:
    return abs(math.degrees(math.atan2(a[0] * b[1] - a[1] * b[0], a[0] * b[0] + a[1] * b[1])))
