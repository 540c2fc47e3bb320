"""How much of a panel shows round a layer that lies on it: along the sides and round notches."""

from __future__ import annotations

import math
from collections.abc import Callable

import shapely
from msgspec import Struct
from msgspec.structs import replace

from publisher.assembly.types import State
from publisher.geometry.flatten import arc_points, flattened
from publisher.geometry.measure import area
from publisher.geometry.path import Arc, Path, Point, Segment
from publisher.geometry.shapely_bridge import to_shapely
from publisher.geometry.space import Pose, lift
from publisher.model.types import Facet, MatOf, Pattern, Piece

Place = Callable[[Point], Point]
_LEANS_DEG = 1.0
CHORD_MM = 0.005
"""How far chords may stray from arcs in what is measured here."""


def shifted(dx: float, dy: float) -> Place:
    """Flat points of a layer that lies on a piece with its origin at (dx, dy)."""
    return lambda p: (p[0] + dx, p[1] + dy)


def carried(pose: Pose) -> Place:
    """Flat points of a layer in the plane of the facet that ``pose`` carries it to."""

    def place(p: Point) -> Point:
        x, y, _ = pose.apply(lift(p))
        return (x, -y)

    return place


class Border(Struct, frozen=True):
    """What was measured between the edge of a layer and the edge of its panel, mm.

    ``sides`` are (side of the layer, width) for its straight edges, at their middles.
    ``rings`` are (least, greatest) widths round each of its notches that follows one of the
    panel's. ``over_mm2`` is how much of the layer reaches past the panel. One that lies behind
    its panel, as the pane of a window does, shows no border.
    """

    layer: str
    piece: str
    panel: str
    sides: tuple[tuple[str, float], ...]
    rings: tuple[tuple[float, float], ...]
    over_mm2: float
    behind: bool = False

    @property
    def values_mm(self) -> tuple[float, ...]:
        return tuple(v for _, v in self.sides) + tuple(v for ring in self.rings for v in ring)


def borders(pattern: Pattern, end: State) -> tuple[Border, ...]:
    """Every one-facet piece glued to a panel of another piece, or derived as a mat of one."""
    found: list[Border] = []
    for layer in pattern.pieces:
        if isinstance(layer.derived, MatOf):
            if layer.derived.behind:
                continue
            parent = pattern.piece(layer.derived.piece)
            dx, dy = layer.derived.offset
            found.append(_measured(layer, parent, layer.derived.panel, shifted(dx, dy)))
            continue
        if len(layer.facets) == 1:
            border = _as_laid(pattern, end, layer)
            if border is not None:
                found.append(border)
    return tuple(found)


def _as_laid(pattern: Pattern, end: State, layer: Piece) -> Border | None:
    names = {b.id: b.piece for b in end.bodies}
    papers = {p.name: p for p in pattern.pieces}  # what is put in has no border
    for bond in (b for b in end.bonds if b.by != "tuck"):
        for here, there in ((bond.first, bond.second), (bond.second, bond.first)):
            if names[here[0]] != layer.name or names[there[0]] == layer.name:
                continue
            parent = papers.get(names[there[0]])
            facets = parent.facets if parent is not None else ()
            below = next((f for f in facets if f.name == there[1]), None)
            if parent is None or below is None or area(layer.outline) > area(below.region):
                continue  # a bent panel has no one facet
            into = (
                end.body(there[0])
                .facet_pose(there[1])
                .inverse()
                .after(end.body(here[0]).facet_pose(here[1]))
            )
            if abs(into.normal[2]) < 0.9998:
                continue
            found = _measured(layer, parent, below.panel, carried(into))
            return replace(found, behind=into.shift[2] < 0)
    return None


def _facets_of(piece: Piece, panel: str) -> list[Facet]:
    return [f for f in piece.facets if f.panel == panel]


def _measured(layer: Piece, parent: Piece, panel: str, place: Place) -> Border:
    facets = _facets_of(parent, panel)
    cut = shapely.unary_union([to_shapely(f.region, CHORD_MM) for f in facets])
    # A backing covers a window: what is cut within the panel is no edge of it.
    paper = shapely.unary_union([shapely.Polygon(p.exterior) for p in shapely.get_parts(cut)])
    rim = paper.boundary
    bends = [
        [shapely.LineString([*arc_points(s, 0.001), s.end]) for s in run if isinstance(s, Arc)]
        for f in facets
        for path in (f.region.outer, *f.region.holes)
        for run in _runs(path)
    ]
    arcs = [shapely.union_all(bend) for bend in bends if bend]
    sides: list[tuple[str, float]] = []
    rings: list[tuple[float, float]] = []
    for run in _runs(layer.outline.outer):
        if isinstance(run[0], Arc):
            points = [place(p) for s in run if isinstance(s, Arc) for p in [*_arc(s), s.end]]
            if not arcs:
                continue
            dots = shapely.points(points)
            far = [shapely.distance(arc, dots) for arc in arcs]
            gaps = min(far, key=lambda f: float(f.max()))
            least, most = float(gaps.min()), float(gaps.max())
            if least < 0.5 * max(layer.panels[0].width_mm, layer.panels[0].height_mm):
                rings.append((least, most))
        else:
            a, b = run[0].start, run[-1].end
            middle = shapely.Point(place(((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)))
            gap = (
                float(rim.distance(middle))
                if paper.covers(middle)
                else -float(rim.distance(middle))
            )
            sides.append((_side(a, b), gap))
    whole = shapely.Polygon([place(p) for p in flattened(layer.outline.outer, 0.005)])
    if not sides and not rings:  # round on a panel that is not: what is left at the narrowest
        sides.append(("round", float(rim.distance(whole)) if paper.covers(whole) else 0.0))
    over = float(whole.difference(paper.buffer(0.01)).area)
    return Border(layer.name, parent.name, panel, tuple(sides), tuple(rings), over)


def _arc(arc: Arc) -> list[Point]:
    return arc_points(arc, min(0.001, arc.radius_mm / 1000))


def _runs(path: Path) -> list[list[Segment]]:
    """Segments grouped: each straight one alone, neighbouring arcs together."""
    runs: list[list[Segment]] = []
    for segment in path.segments:
        if isinstance(segment, Arc) and runs and isinstance(runs[-1][0], Arc):
            runs[-1].append(segment)
        else:
            runs.append([segment])
    return runs


def _side(a: Point, b: Point) -> str:
    """Which side of the layer a clockwise edge is; that of a star or a hexagon that leans is
    none of the four."""
    angle = math.degrees(math.atan2(b[1] - a[1], b[0] - a[0])) % 360
    if abs(angle - 90 * round(angle / 90)) > _LEANS_DEG:
        return "leaning"
    return ("top", "right", "bottom", "left")[round(angle / 90) % 4]
