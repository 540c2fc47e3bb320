"""What is drawn along the edges of a facet, and along the line where two meet: a fold that is made
now, a crease that is there, the edge of folded paper, dots where it is hidden."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TypeAlias

import shapely
from shapely import LineString
from shapely.geometry.base import BaseGeometry

from publisher.drawing.space_view.projected import Projected
from publisher.drawing.space_view.shapes import FacetShape
from publisher.drawing.space_view.spans import Interval, both, spans, without
from publisher.drawing.types import LineRole
from publisher.model.types import Fold, Hinge

CREASE_GAP_MM = 1.1  # how far a crease already there stops short of the edge
FLAT_DEG = 0.5
SAME_LINE_MM = 0.32  # nearer than this the ink of two outlines runs together
_ON_EDGE_MM = 1e-3

Stretch: TypeAlias = tuple[LineRole, list[Interval], float]
"""A role, the stretches of the line that have it, how far they stop short of its ends, mm."""


def edge_role(item: Projected) -> LineRole:
    """Of a free edge of a facet."""
    if item.clear:
        return "clear"
    return "outline-moving" if item.actor.moving else "outline"


def free_edges(item: Projected, facet: FacetShape) -> BaseGeometry:
    """The flat edges of a facet that no hinge joins to another. Of a clear one without its windows
    where they are so many that they would crowd what is behind it."""
    if not item.clear:
        return facet.free_edges
    windows = shapely.MultiLineString(list(facet.paper.interiors))
    if windows.length < facet.paper.exterior.length:
        return facet.free_edges
    return shapely.difference(facet.free_edges, shapely.buffer(windows, _ON_EDGE_MM))


def along_fold(
    fold: Fold,
    ends: Sequence[Projected],
    seen: tuple[list[Interval], list[Interval]],
    now: LineRole | None,
    level: bool,
    unmade: bool,
    dotted: bool,
) -> list[Stretch]:
    """Of the two facets at a fold and where along it each is seen. ``now`` is its role where it is
    marked, ``level``: it lies flat, ``unmade``: a later step scores it, ``dotted``: so are its
    hidden stretches. Of a fold between clear facets nothing is drawn where it is a crease."""
    one, other = seen
    shared = either = one
    if one != other:
        shared, either = both(one, other), one + without(other, one)
    found: list[Stretch] = []
    clear = [item.clear for item in ends]
    if fold.smooth:  # a bend has no line but where the paper turns away from the eye
        pass
    elif now is not None:
        found.append((now, either, 0.0))
    elif level and not unmade and not all(clear):
        gap = 0.0 if fold.part_of else CREASE_GAP_MM
        found.append(("fold-made", either, gap))
    elif not level and any(clear):
        solid = [] if all(clear) else seen[clear.index(False)]
        found += [("outline", solid, 0.0), ("clear", without(either, solid), 0.0)]
    elif not level:
        found.append(("inner", shared, 0.0))
    if not level and either != shared and (fold.smooth or not any(clear)):
        moving = any(item.actor.moving for item in ends)
        edge: LineRole = "clear" if all(clear) else "outline-moving" if moving else "outline"
        found.append((edge, without(either, shared), 0.0))
    told = not fold.smooth and (now is not None or not level)
    if told and dotted:
        found.append(("hidden", without([(0.0, 1.0)], either), 0.0))
    return found


def at_edges(
    hinges: Sequence[tuple[str, Hinge, LineString]],
    fold_now: Mapping[tuple[str, str], LineRole],
    shown_along: list[list[Interval]],
    near: Sequence[BaseGeometry],
) -> None:
    """Where a fold that is marked is not seen at all, but lies under the very edge of what hides
    it, so that both are one line on paper, it counts as seen: paper is folded up round a thing."""
    count = len(hinges)
    for k, (body, hinge, line) in enumerate(hinges):
        if (body, hinge.fold) in fold_now and not (shown_along[k] or shown_along[count + k]):
            for n in (k, count + k):
                if shapely.dwithin(near[n], line, SAME_LINE_MM):
                    beside = shapely.buffer(near[n], SAME_LINE_MM, quad_segs=1, join_style="mitre")
                    (shown_along[n],) = spans([line], [beside])
