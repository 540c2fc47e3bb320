"""Paper between two openings, or between an opening and the edge, is wide enough to last."""

from __future__ import annotations

import re
from functools import partial

import shapely
from shapely.geometry.base import BaseGeometry

from publisher.checks.context import Context, Results, failed, passed
from publisher.geometry.measure import path_bounds
from publisher.model.types import Opening, Piece

CODE = "bridge-too-narrow"
_RING = re.compile(r"#(\d+)")
_SAME_MM = 0.1
TOUCHING_MM = 0.05
"""A slit that ends at an edge or in a window is meant to."""


def check(context: Context) -> Results:
    least = context.practice("bridge_width_least_mm")
    for piece in context.sound():
        found = _widths(context, piece)
        if not found:
            continue
        width, said = min(found)
        said = _RING.sub(partial(_named, context, piece), said)
        numbers = (("width_mm", width), ("least_mm", least))
        if width < least - 1e-6:
            yield failed(
                CODE,
                piece.name,
                numbers,
                f"only {context.say(width)} of {piece.name} is left {said};"
                f" {context.say(least)} is the least that lasts",
                piece.span,
                severity="warning",
                ways_out=("move or narrow one of the openings",),
            )
        else:
            yield passed(
                CODE, piece.name, numbers, f"{context.say(width)} of {piece.name} is left {said}"
            )


def _named(context: Context, piece: Piece, ring: re.Match[str]) -> str:
    """The window that a hole of the paper is, by its own name."""
    hole = context.paper(piece).interiors[int(ring.group(1))].bounds
    windows = [o for o in piece.openings if o.kind == "window"]

    def off(opening: Opening) -> float:
        pairs = zip(path_bounds(opening.path), hole, strict=True)
        return max(abs(a - b) for a, b in pairs)

    nearest = min(windows, key=off, default=None)
    return "a window" if nearest is None or off(nearest) > _SAME_MM else nearest.name


def _widths(context: Context, piece: Piece) -> list[tuple[float, str]]:
    """Every strip of paper between two cuts, and the bridges that the design names."""
    paper = context.paper(piece)
    cuts: list[tuple[str, BaseGeometry]] = [
        (f"#{i}", shapely.LineString(r.coords)) for i, r in enumerate(paper.interiors)
    ]
    slits = [o.name for o in piece.openings if o.kind == "slit"]
    cuts += list(zip(slits, context.slits(piece), strict=True))
    found = [(b.width_mm, f"in a bridge of {b.island}") for b in piece.bridges]
    rim = shapely.LineString(paper.exterior.coords)
    for i, (name, cut) in enumerate(cuts):
        others = [("the edge", rim), *cuts[i + 1 :]]
        gaps = shapely.distance(cut, [other for _, other in others]).tolist()
        apart = [gap for gap in gaps if gap > TOUCHING_MM]
        least = min(apart, default=0.0)
        found += [
            (gap, f"between {name} and {other}")
            for gap, (other, _) in zip(gaps, others, strict=True)
            if apart and gap == least
        ]
    return found
