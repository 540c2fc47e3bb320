"""A panel that bends, cut into narrow strips that turn about lines between them.

The lines run square to the way in which the panel runs round, or through the centre of its arcs
where it is cut as a sector: that makes a cone. All strips together are as long as the panel, so
that a bend keeps its arc length. A tab at its end bends on with it.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from msgspec import Struct
from msgspec.structs import replace

from publisher.geometry.booleans import split_region
from publisher.geometry.measure import path_bounds
from publisher.geometry.path import Arc, Line, Path, Point, Region
from publisher.geometry.segments import point_at
from publisher.model.shaping.facets import hinges_of
from publisher.model.types import Bend, Facet, Fold, Piece

_NEAR_MM = 1e-6
_FAR_MM = 1000.0
_TIP_MM = 0.01
STRIPS = 48
"""Of a curled panel: a full round turns 7.5 degrees at each line, and its strips stand off the
true circle by less than a thousandth of its diameter (1 - cos of half of that, halved)."""


class Rulings(Struct, frozen=True):
    """Where a panel is cut: at places along ``way`` (unit) from ``start``, square to it; or, with
    a ``centre``, by rays from there, at angles in degrees. ``least`` to ``greatest`` is the
    panel; one strip takes ``step``."""

    way: Point
    least: float
    greatest: float
    step: float
    centre: Point | None = None

    def place(self, p: Point) -> float:
        """Where a point lies across the rulings."""
        if self.centre is None:
            return p[0] * self.way[0] + p[1] * self.way[1]
        x, y = p[0] - self.centre[0], p[1] - self.centre[1]
        # Counted from the way, clockwise as seen, from -180 to 180.
        along = x * self.way[0] + y * self.way[1]
        aside = self.way[0] * y - self.way[1] * x
        return math.degrees(math.atan2(aside, along))

    def line(self, at: float) -> tuple[Point, Point]:
        """The ruling there, the strip before it on its right hand as seen (y runs down)."""
        (u, v), far = self.way, _FAR_MM
        if self.centre is None:
            x, y = u * at, v * at
            return (x + v * far, y - u * far), (x - v * far, y + u * far)
        c, s = math.cos(math.radians(at)), math.sin(math.radians(at))
        ray = (u * c - v * s, u * s + v * c)
        x, y = self.centre
        # A hair past the tip, which arcs that were rounded may miss.
        return (x + ray[0] * far, y + ray[1] * far), (x - ray[0] * _TIP_MM, y - ray[1] * _TIP_MM)


def rulings(region: Region, count: int = STRIPS, across: bool | None = None) -> Rulings:
    """How a panel is cut into ``count`` strips: round the centre of its arcs where all its other
    edges lie on rays from there, else square to the way that it runs round: ``across``, down, or
    the longer of both."""
    sector = _sector(region, count)
    if sector is not None and across is None:
        return sector
    x0, y0, x1, y1 = path_bounds(region.outer)
    if across is None:
        across = x1 - x0 >= y1 - y0
    way, least, greatest = ((1.0, 0.0), x0, x1) if across else ((0.0, 1.0), y0, y1)
    return Rulings(way, least, greatest, (greatest - least) / count)


def _sector(region: Region, count: int) -> Rulings | None:
    arcs = [s for s in region.outer.segments if isinstance(s, Arc)]
    lines = [s for s in region.outer.segments if not isinstance(s, Arc)]
    if not arcs or len(lines) < 2:
        return None
    centre = max(arcs, key=lambda a: round(a.length_mm, 6)).centre
    if any(math.dist(a.centre, centre) > 1e-3 for a in arcs):
        return None
    for line in lines:
        (x, y), (u, v) = line.start, line.end
        off = abs((u - x) * (centre[1] - y) - (v - y) * (centre[0] - x)) / math.dist((x, y), (u, v))
        if off > 1e-3:
            return None
    # A tip is where the paper's own corner is: rounded figures of an arc may miss it by a hair.
    tips = [s.start for s in lines if math.dist(s.start, centre) < 1e-3]
    centre = tips[0] if tips else centre
    middle = point_at(max(arcs, key=lambda a: round(a.length_mm, 6)), 0.5)
    size = math.dist(middle, centre)
    way = ((middle[0] - centre[0]) / size, (middle[1] - centre[1]) / size)
    bare = Rulings(way, -180.0, 180.0, 1.0, centre)
    ends = [bare.place(p) for a in arcs for p in (a.start, a.end)]
    least, greatest = min(ends), max(ends)
    return replace(bare, least=least, greatest=greatest, step=(greatest - least) / count)


def bend_names(part: str, count: int) -> list[str]:
    """The lines between ``count`` strips."""
    return [f"bend {i} of {part}" for i in range(1, count)]


def in_strips(
    piece: Piece,
    facet_name: str,
    count: int = STRIPS,
    across: bool | None = None,
    bend: Bend = "mountain",
) -> Piece:
    """The piece with one facet as ``count`` strips, joined by folds that lie flat; tabs at its
    two ends are cut on in the same way."""
    facet = piece.facet(facet_name)
    cut = rulings(facet.region, count, across)
    inner = [cut.least + cut.step * i for i in range(1, count)]
    facets: dict[str, list[Facet]] = {facet_name: _cut(facet, cut, inner, False)}
    folds = _bends(piece, facet, cut, inner, bend)
    for tab, backwards in tabs_beyond(piece, facet, cut):
        ends = [cut.place(s.start) for s in tab.region.outer.segments]
        limit = min(ends) if backwards else max(ends)
        edge = cut.least if backwards else cut.greatest
        more = int((abs(limit - edge) - _NEAR_MM) / cut.step)
        at = [edge + (-cut.step if backwards else cut.step) * i for i in range(1, more + 1)]
        facets[tab.name] = _cut(tab, cut, at, backwards)
        folds += _bends(piece, tab, cut, at, bend)
    whole = [f for one in piece.facets for f in facets.get(one.name, [one])]
    together = (*piece.folds, *folds)
    hinges = hinges_of(together, whole)
    joined = {hinge.fold for hinge in hinges}
    kept = tuple(f for f in together if not f.smooth or f.name in joined)
    return replace(piece, folds=kept, facets=tuple(whole), hinges=hinges)


def tabs_beyond(piece: Piece, facet: Facet, cut: Rulings) -> list[tuple[Facet, bool]]:
    """The tabs that hang on the first (True) or last ruling of a panel."""
    found = []
    for fold in piece.folds:
        tab = next((p for p in piece.panels if p.name == fold.child), None)
        if tab is None or tab.kind != "tab" or fold.parent != facet.panel:
            continue
        places = [cut.place(p) for p in _inner_ends(fold)]
        for edge, backwards in ((cut.least, True), (cut.greatest, False)):
            if all(abs(p - edge) < 0.01 * cut.step for p in places):
                own = next((f for f in piece.facets if f.name == tab.name), None)
                if own is not None and not _goes_round(own, cut):
                    found.append((own, backwards))
    return found


def _goes_round(tab: Facet, cut: Rulings) -> bool:
    """Whether a tab is as long as the panel that it hangs on: it would go round once more, and
    stays stiff."""
    places = [cut.place(s.start) for s in tab.region.outer.segments]
    return cut.centre is None and max(places) - min(places) > cut.greatest - cut.least


def _inner_ends(fold: Fold) -> tuple[Point, Point]:
    """Two points a little within the ends of a fold: at a cone's tip there is no angle."""
    (x, y), (u, v) = fold.start, fold.end
    return (x + (u - x) * 0.1, y + (v - y) * 0.1), (x + (u - x) * 0.9, y + (v - y) * 0.9)


def _cut(facet: Facet, cut: Rulings, at: Sequence[float], backwards: bool) -> list[Facet]:
    cuts = [Path((Line(*cut.line(a)),), closed=False) for a in at]
    parts = split_region(facet.region, cuts)

    def place(region: Region) -> float:
        segments = region.outer.segments
        x = sum(s.start[0] for s in segments) / len(segments)
        y = sum(s.start[1] for s in segments) / len(segments)
        return cut.place((x, y)) * (-1.0 if backwards else 1.0)

    return [
        Facet(f"{facet.name} strip {i}", facet.panel, region)
        for i, region in enumerate(sorted(parts, key=place), start=1)
    ]


def _bends(piece: Piece, facet: Facet, cut: Rulings, at: Sequence[float], bend: Bend) -> list[Fold]:
    names = bend_names(facet.name, len(at) + 1)
    return [
        Fold(name, *cut.line(a), bend, 180.0, facet.panel, facet.panel, piece.span, smooth=True)
        for name, a in zip(names, at, strict=True)
    ]
