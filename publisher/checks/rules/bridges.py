"""Paper between two openings, or between an opening and the edge, is wide enough to last."""

from __future__ import annotations

import shapely
from shapely.geometry.base import BaseGeometry

from publisher.checks.context import Context, Results, failed, passed
from publisher.model.types import Piece

CODE = "bridge-too-narrow"
TOUCHING_MM = 0.05
"""A slit that ends at an edge or in a window is meant to."""


def check(context: Context) -> Results:
    least = context.practice("bridge_width_least_mm")
    for piece in context.sound():
        found = _widths(context, piece)
        if not found:
            continue
        width, said = min(found)
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


def _widths(context: Context, piece: Piece) -> list[tuple[float, str]]:
    """Every strip of paper between two cuts, and the bridges that the design names."""
    paper = context.paper(piece)
    cuts: list[tuple[str, BaseGeometry]] = [
        (f"window {i}", shapely.LineString(r.coords)) for i, r in enumerate(paper.interiors, 1)
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
