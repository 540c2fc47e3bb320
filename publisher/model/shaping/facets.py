"""Facets and hinges: the outline divided along its scores."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from publisher.geometry.booleans import split_region
from publisher.geometry.measure import path_bounds, segment_bounds
from publisher.geometry.path import Line, Path, Point, Region
from publisher.geometry.segments import direction_at, nearest_on, point_at
from publisher.model.shaping.panels import inside_ring
from publisher.model.types import Facet, Fold, Hinge, Panel

_NEAR_MM = 1e-6
_HAIR_MM = 1e-4


def facets_of(outline: Region, panels: Sequence[Panel], cuts: Sequence[Path]) -> tuple[Facet, ...]:
    """The rigid stretches between the cuts (scores and slits), in the order of their panels.

    A panel that stays whole gives its name to its facet; the parts of a divided one are
    numbered from the top left.
    """
    homes: dict[str, list[Region]] = {p.name: [] for p in panels}
    for region in split_region(outline, cuts):
        homes[_home(region, panels)].append(region)
    facets: list[Facet] = []
    for panel in panels:
        regions = homes[panel.name]
        if len(regions) == 1:
            facets.append(Facet(panel.name, panel.name, regions[0]))
        else:
            facets.extend(
                Facet(f"{panel.name} part {i}", panel.name, r)
                for i, r in enumerate(regions, start=1)
            )
    return tuple(facets)


def _home(region: Region, panels: Sequence[Panel]) -> str:
    """The panel that the region lies in, asked at a point a hair inside its border."""
    longest = max(region.outer.segments, key=lambda s: s.length_mm)
    x, y = point_at(longest, 0.5)
    dx, dy = direction_at(longest, 0.5)
    p = (x - dy * _HAIR_MM, y + dx * _HAIR_MM)  # the paper is on the right hand
    for panel in panels:
        if inside_ring(panel.ring, p):
            return panel.name
    # Paper that was joined on belongs to the panel beside it.
    return min(panels, key=lambda panel: _away(panel, x, y)).name


def _away(panel: Panel, x: float, y: float) -> float:
    return min(math.dist(nearest_on(Line(e.start, e.end), (x, y)), (x, y)) for e in panel.edges)


Stretch = tuple[Point, Point]


def hinges_of(
    folds: Sequence[Fold],
    facets: Sequence[Facet],
    unscored: Mapping[str, Sequence[Stretch]] | None = None,
) -> tuple[Hinge, ...]:
    """Where two facets share a stretch of a fold, the one on the fold's right hand first.

    ``unscored`` are stretches by fold that it leaves out: a score of another name may run there.
    """
    hinges: list[Hinge] = []
    boxed = [(facet, path_bounds(facet.region.outer)) for facet in facets]
    for fold in folds:
        length = math.dist(fold.start, fold.end)
        left_out = (unscored or {}).get(fold.name, ())
        left_mm, top_mm, right_mm, bottom_mm = segment_bounds(Line(fold.start, fold.end))
        x, y, u, v = (
            left_mm - _NEAR_MM,
            top_mm - _NEAR_MM,
            right_mm + _NEAR_MM,
            bottom_mm + _NEAR_MM,
        )
        near = [f for f, (x0, y0, x1, y1) in boxed if x0 <= u and x <= x1 and y0 <= v and y <= y1]
        right: list[tuple[str, tuple[float, float]]] = []
        left: list[tuple[str, tuple[float, float]]] = []
        for facet in near:
            same, other = _runs(facet, fold, length)
            right += [(facet.name, r) for r in same]
            left += [(facet.name, r) for r in other]
        for parent, (a0, a1) in right:
            for child, (b0, b1) in left:
                low, high = max(a0, b0), min(a1, b1)
                start, end = _along(fold, low / length), _along(fold, high / length)
                if high - low > _NEAR_MM and not _left_out(start, end, left_out):
                    hinges.append(Hinge(fold.name, parent, child, start, end))
    return tuple(hinges)


def _left_out(start: Point, end: Point, stretches: Sequence[Stretch]) -> bool:
    """Whether the middle of a stretch lies in one of these, on the same line."""
    middle = ((start[0] + end[0]) / 2.0, (start[1] + end[1]) / 2.0)
    return any(
        math.dist(a, middle) + math.dist(middle, b) < math.dist(a, b) + _NEAR_MM
        for a, b in stretches
    )


def _along(fold: Fold, share: float) -> Point:
    if share <= 1e-12:
        return fold.start
    if share >= 1.0 - 1e-12:
        return fold.end
    (x1, y1), (x2, y2) = fold.start, fold.end
    return (x1 + share * (x2 - x1), y1 + share * (y2 - y1))


def _runs(
    facet: Facet, fold: Fold, length: float
) -> tuple[list[tuple[float, float]], list[tuple[float, float]]]:
    """Stretches (from, to in mm along the fold) of the facet's border that lie on the fold:
    those that run as the fold does, and those that run back."""
    (x1, y1), (x2, y2) = fold.start, fold.end
    ux, uy = (x2 - x1) / length, (y2 - y1) / length
    same: list[tuple[float, float]] = []
    other: list[tuple[float, float]] = []
    for ring in (facet.region.outer, *facet.region.holes):
        for segment in ring.segments:
            if not isinstance(segment, Line):
                continue
            (px, py), (qx, qy) = segment.start, segment.end
            if abs(ux * (py - y1) - uy * (px - x1)) > _NEAR_MM:
                continue
            if abs(ux * (qy - y1) - uy * (qx - x1)) > _NEAR_MM:
                continue
            begin, end = ux * (px - x1) + uy * (py - y1), ux * (qx - x1) + uy * (qy - y1)
            low, high = max(min(begin, end), 0.0), min(max(begin, end), length)
            if high - low > _NEAR_MM:
                (same if end > begin else other).append((low, high))
    return sorted(same), sorted(other)
