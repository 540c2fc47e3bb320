"""A panel that bends, cut into narrow strips that turn about lines between them.

The lines run square to the way in which the panel is longest. All strips together are as long as
the panel, so that a bend keeps its arc length.
"""

from __future__ import annotations

from msgspec.structs import replace

from publisher.geometry.booleans import split_region
from publisher.geometry.measure import path_bounds
from publisher.geometry.path import Line, Path, Point
from publisher.model.shaping.facets import hinges_of
from publisher.model.types import Facet, Fold, Piece

_BEYOND_MM = 1.0
STRIPS = 48
"""Of a curled panel: a full round turns 7.5 degrees at each line, and its strips stand off the
true circle by less than a thousandth of its diameter (1 - cos of half of that, halved)."""


def bend_names(panel: str, count: int) -> list[str]:
    """The lines between ``count`` strips."""
    return [f"bend {i} of {panel}" for i in range(1, count)]


def in_strips(piece: Piece, facet_name: str, count: int) -> Piece:
    """The piece with one facet as ``count`` strips, joined by mountain folds that lie flat."""
    facet = piece.facet(facet_name)
    x0, y0, x1, y1 = path_bounds(facet.region.outer)
    across = x1 - x0 >= y1 - y0
    lines: list[tuple[Point, Point]] = []
    for i in range(1, count):
        if across:
            x = x0 + (x1 - x0) * i / count
            # The parent, the strip before, lies on the right hand: y runs down.
            lines.append(((x, y0 - _BEYOND_MM), (x, y1 + _BEYOND_MM)))
        else:
            y = y0 + (y1 - y0) * i / count
            lines.append(((x1 + _BEYOND_MM, y), (x0 - _BEYOND_MM, y)))
    cuts = [Path((Line(*line),), closed=False) for line in lines]
    parts = split_region(facet.region, cuts)
    regions = sorted(parts, key=lambda r: path_bounds(r.outer)[0 if across else 1])
    strips = [
        Facet(f"{facet_name} strip {i}", facet.panel, region)
        for i, region in enumerate(regions, start=1)
    ]
    folds = [
        Fold(name, start, end, "mountain", 180.0, facet.panel, facet.panel, piece.span)
        for name, (start, end) in zip(bend_names(facet_name, count), lines, strict=True)
    ]
    facets: list[Facet] = []
    for one in piece.facets:
        facets += strips if one.name == facet_name else [one]
    together = (*piece.folds, *folds)
    return replace(
        piece,
        folds=together,
        facets=tuple(facets),
        hinges=hinges_of(together, facets),
    )
