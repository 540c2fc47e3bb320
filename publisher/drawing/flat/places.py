"""Where what is cut, drawn, scored or glued within a piece lies: how far in from the nearest
edges. Who has a ruler and no machine measures from the edge of the paper or from a fold.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise

from msgspec import Struct

from publisher.diagnostics import Span
from publisher.drawing.flat.board import Axis, Box
from publisher.drawing.flat.lengths import Across
from publisher.geometry.flatten import flattened
from publisher.geometry.measure import bounds_of, path_bounds
from publisher.geometry.path import Path, Point
from publisher.model.marked import WHOLE
from publisher.model.types import Piece

_NEAR_MM = 0.05
_LEVEL_MM = 1e-6
_HAIR_MM = 1e-3
AXES: tuple[Axis, Axis] = ("x", "y")
_SIDES = {"x": ("left", "right"), "y": ("top", "bottom")}
SIDES = frozenset({"left", "right", "top", "bottom"})


class Found(Struct, frozen=True):
    """Something with a place: its lines and the box round them, and the ring from which it is
    measured, that of ``panel`` or ("") of the whole piece."""

    name: str
    lines: tuple[tuple[Point, ...], ...]
    box: Box
    ring: tuple[Point, ...]
    panel: str

    def reach(self, axis: Axis) -> tuple[float, float]:
        x0, y0, x1, y1 = self.box
        return (x0, x1) if axis == "x" else (y0, y1)


class Place(Struct, frozen=True):
    """How far in from a side ("left", "top", ...) of a panel, or ("") of the piece, something
    lies, or from the one before it in a row; and the stretch of paper between, as wide as the
    part that lies nearest."""

    name: str
    axis: Axis
    whence: str
    panel: str
    mm: float
    spot: Box


def places(piece: Piece) -> Iterator[Across]:
    for place in places_of(piece):
        name = f"{place.name}, from {place.whence}"
        yield Across("place", name, place.axis, place.mm, (place.spot,))


def places_of(piece: Piece) -> Iterator[Place]:
    """The places of openings, of what is drawn, of glue that lies off the edges, and of scores
    within a panel."""
    for row in _rows(piece):
        for axis in AXES:
            yield from _of_row(row, axis)
    turned = {f.name for f in piece.folds if f.parent == f.child}
    told = [path_bounds(o.path) for o in piece.openings]
    for score in piece.scores:
        if score.fold not in turned or len(score.path.segments) > 1:
            continue
        one = _found(piece, score.name, (score.path,), None)
        for k, axis in enumerate(AXES):
            low, high = one.reach(axis)
            # One that runs from end to end of slits has its place from them.
            by_slits = any(abs(end - low) < _NEAR_MM for box in told for end in box[k::2])
            if high - low < _NEAR_MM and not by_slits:
                yield from _of_row([one], axis)


def _found(piece: Piece, name: str, paths: Iterable[Path], panel: str | None) -> Found:
    all_paths = tuple(paths)
    lines = tuple(tuple(_points(path)) for path in all_paths)
    x0, y0, x1, y1 = box = bounds_of([path_bounds(path) for path in all_paths])
    for own in piece.panels:
        left, top, right, bottom = own.bounds
        across = left <= x0 + _NEAR_MM and right >= x1 - _NEAR_MM
        if own.name == panel and across and top <= y0 + _NEAR_MM and bottom >= y1 - _NEAR_MM:
            return Found(name, lines, box, (*own.ring, own.ring[0]), own.name)
    return Found(name, lines, box, tuple(_points(piece.outline.outer)), "")


def _points(path: Path) -> list[Point]:
    points = [(float(x), float(y)) for x, y in flattened(path)]
    return [*points, points[0]] if path.closed else points


def _rows(piece: Piece) -> Iterator[list[Found]]:
    """What has a place: alone, or in a row of things alike that one line made on one panel.
    Letters and artwork are one thing."""
    rows: dict[tuple[str | None, str, Span], list[tuple[str, tuple[Path, ...]]]] = {}
    for opening in piece.openings:
        key = (opening.panel, f"{opening.kind} {opening.shape}", opening.span)
        rows.setdefault(key, []).append((opening.name, (opening.path,)))
    for mark in piece.marks:
        if mark.kind != "register":
            key = (mark.panel, f"{mark.kind} {mark.shape}", mark.span)
            rows.setdefault(key, []).append((mark.name, mark.paths))
    for (panel, what, _), own in rows.items():
        if what.endswith(WHOLE):
            whole = tuple(path for _, paths in own for path in paths)
            own = [(own[0][0].rstrip("0123456789 "), whole)]
        yield [_found(piece, name, paths, panel) for name, paths in own]
    for zone in piece.glue_zones:
        yield [_found(piece, zone.name, (zone.region.outer,), zone.panel)]


def _of_row(row: Sequence[Found], axis: Axis) -> Iterator[Place]:
    """From the nearer side, and within a row that runs this way from one to the next. Nothing
    of what reaches an edge."""
    line = sorted(row, key=lambda one: one.reach(axis))
    first, last = line[0], line[-1]
    ends = [_to_edge(first, axis, -1), _to_edge(last, axis, 1)]
    if any(end is None or end[0] < _NEAR_MM for end in ends):
        return
    found = [(end[0], side, end[1]) for side, end in enumerate(ends) if end is not None]
    mm, side, spot = min(found, key=lambda f: (round(f[0], 2), f[1]))
    one = last if side else first
    yield Place(one.name, axis, _SIDES[axis][side], one.panel, mm, spot)
    if last.reach(axis)[0] - first.reach(axis)[0] < _NEAR_MM:
        return
    for before, after in pairwise(line):
        start, end = before.reach(axis)[1], after.reach(axis)[0]
        if end - start > _NEAR_MM:
            low, high = _foremost(after.lines, axis, end)
            spot = (start, low, end, high) if axis == "x" else (low, start, high, end)
            yield Place(after.name, axis, before.name, "", end - start, spot)


def _to_edge(one: Found, axis: Axis, sign: int) -> tuple[float, Box] | None:
    """How far it is to the ring on one side, and the paper between."""
    at = one.reach(axis)[1 if sign > 0 else 0]
    low, high = _foremost(one.lines, axis, at)
    k = 0 if axis == "x" else 1
    level = (low + high) / 2.0
    # A hair towards its own middle, off an edge on which it may lie.
    middle = sum(one.reach(AXES[1 - k])) / 2.0
    level += math.copysign(min(_HAIR_MM, abs(middle - level)), middle - level)
    away = []
    for p, q in pairwise(one.ring):
        if (p[1 - k] <= level) == (q[1 - k] <= level):
            continue
        met = p[k] + (q[k] - p[k]) * (level - p[1 - k]) / (q[1 - k] - p[1 - k])
        if (met - at) * sign > -_NEAR_MM:
            away.append((met - at) * sign)
    if not away:
        return None
    edge = at + min(away) * sign
    start, end = min(at, edge), max(at, edge)
    return min(away), (start, low, end, high) if axis == "x" else (low, start, high, end)


def foremost_points(path: Path) -> Iterator[tuple[Point, Point]]:
    """Where a line reaches farthest right, left, down and up, each with the way out."""
    lines, box = (tuple(_points(path)),), path_bounds(path)
    for k, axis in enumerate(AXES):
        for sign in (1, -1):
            at = box[k + 2 if sign > 0 else k]
            low, high = _foremost(lines, axis, at)
            middle = (low + high) / 2.0
            yield ((at, middle), (sign, 0.0)) if axis == "x" else ((middle, at), (0.0, sign))


def _foremost(lines: Sequence[Sequence[Point]], axis: Axis, at: float) -> tuple[float, float]:
    """From where to where lines reach as far as ``at``: the longest straight edge there, or the
    one point."""
    k = 0 if axis == "x" else 1
    best: tuple[float, float] | None = None
    for line in lines:
        for p, q in pairwise(line):
            if abs(p[k] - at) < _LEVEL_MM and abs(q[k] - at) < _LEVEL_MM:
                low, high = sorted((p[1 - k], q[1 - k]))
                if best is None or high - low > best[1] - best[0]:
                    best = (low, high)
    if best is None:
        there = min((abs(p[k] - at), p[1 - k]) for line in lines for p in line)[1]
        best = (there, there)
    return best
