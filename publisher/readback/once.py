"""Shared edges cut once: everything is cut, nothing beside it, and no edge twice."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from publisher.diagnostics import Diagnostic
from publisher.geometry.measure import distance_to_path
from publisher.geometry.path import Point, Segment
from publisher.geometry.segments import point_at
from publisher.readback.expected import WantedCopy
from publisher.readback.found import FoundPath
from publisher.readback.told import differs, mm

STEP_MM = 1.0
TOUCH_MM = 0.1
Piece = tuple[Point, Point, Point]
"""A stretch by its start, middle and end, straight or nearly so between them."""


def compared_once(
    path: str,
    wanted: tuple[WantedCopy, ...],
    written: Sequence[FoundPath],
    tolerance_mm: float,
    lead_mm: float = 0.0,
    overcut_mm: float = 0.0,
) -> Iterator[Diagnostic]:
    """Cuts of the whole sheet: every point of every outline is on some cut, every cut lies on
    an outline, and straight cuts do not lie on each other. A lead lies beside, an overcut goes
    over the beginning once more."""
    cuts = [p for p in written if p.role.lower() == "cut"]
    lines = [line.path for copy in wanted for line in copy.paths if line.role == "cut"]
    for cut in cuts:
        off = max(min(distance_to_path(p, line) for line in lines) for p in cut.points)
        if off > tolerance_mm + lead_mm:
            yield differs(path, f"a cut lies {mm(off)} beside every outline", (("off_mm", off),))
    pieces = [piece for cut in cuts for piece in _pieces(cut)]
    for copy in wanted:
        for line in copy.paths:
            if line.role != "cut":
                continue
            bare = [
                point
                for segment in line.path.segments
                for point in _inside(segment)
                if min((_apart(point, piece) for piece in pieces), default=math.inf) > 0.05
            ]
            if bare:
                x, y = bare[0]
                yield differs(
                    path,
                    f"an edge of {copy.id} is not cut at {mm(x)} across and {mm(y)} down",
                    (("x_mm", x), ("y_mm", y)),
                    copy,
                )
    yield from _twice(path, [p for p in pieces if _is_straight(p)], TOUCH_MM + overcut_mm)


def _inside(segment: Segment) -> list[Point]:
    count = max(2, math.ceil(segment.length_mm / STEP_MM))
    return [point_at(segment, (n + 0.5) / count) for n in range(count)]


def _pieces(cut: FoundPath) -> list[Piece]:
    """Segments as their readers give them: their points by the number to each."""
    p, each = cut.points, cut.each
    return [(p[i], p[i + each // 2], p[i + each - 1]) for i in range(0, len(p) - each + 1, each)]


def _is_straight(piece: Piece) -> bool:
    a, b, c = piece
    return abs(math.dist(a, b) + math.dist(b, c) - math.dist(a, c)) < 1e-4


def _apart(point: Point, piece: Piece) -> float:
    """From a point to a stretch; a bent one is taken for the circle through its three points."""
    a, b, c = piece
    if _is_straight(piece):
        return _from_line(point, a, c)
    bx, by, cx, cy = b[0] - a[0], b[1] - a[1], c[0] - a[0], c[1] - a[1]
    twice = 2.0 * (bx * cy - by * cx)
    b2, c2 = bx * bx + by * by, cx * cx + cy * cy
    middle = (a[0] + (cy * b2 - by * c2) / twice, a[1] + (bx * c2 - cx * b2) / twice)
    return abs(math.dist(point, middle) - math.dist(a, middle))


def _from_line(point: Point, a: Point, b: Point) -> float:
    length = math.dist(a, b)
    ux, uy = (b[0] - a[0]) / length, (b[1] - a[1]) / length
    along = (point[0] - a[0]) * ux + (point[1] - a[1]) * uy
    along = min(length, max(0.0, along))
    return math.dist(point, (a[0] + along * ux, a[1] + along * uy))


def _twice(path: str, straight: list[Piece], most_mm: float) -> Iterator[Diagnostic]:
    for number, (a, _, b) in enumerate(straight):
        for c, _, d in straight[number + 1 :]:
            length = math.dist(a, b)
            if length == 0.0:
                continue
            ux, uy = (b[0] - a[0]) / length, (b[1] - a[1]) / length
            spots = [((p[0] - a[0]) * ux + (p[1] - a[1]) * uy) for p in (c, d)]
            off = [abs((p[0] - a[0]) * uy - (p[1] - a[1]) * ux) for p in (c, d)]
            shared = min(length, max(spots)) - max(0.0, min(spots))
            if max(off) <= 0.01 and shared > most_mm:
                yield differs(
                    path,
                    f"{mm(shared)} are cut twice from {mm(a[0])} across and {mm(a[1])} down",
                    (("twice_mm", shared),),
                )
