"""What assembly works out once for a pattern: hinge trees, facet shapes, names of bodies."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import TYPE_CHECKING

from msgspec import Struct

from publisher.geometry.flatten import flattened
from publisher.geometry.path import Point, Region
from publisher.geometry.space import Pose, Vector
from publisher.model.folding import closed_angles
from publisher.model.hinges import Joint, hang, joints
from publisher.model.types import Pattern, Piece

if TYPE_CHECKING:
    from shapely import Polygon

CHORD_MM = 0.05


class Shape(Struct, frozen=True):
    """A flat region with arcs as chords (within ``CHORD_MM``), in piece coordinates."""

    outer: tuple[Point, ...]
    holes: tuple[tuple[Point, ...], ...]
    bounds: tuple[float, float, float, float]

    @property
    def box(self) -> tuple[Point, Point, Point, Point]:
        x0, y0, x1, y1 = self.bounds
        return ((x0, y0), (x1, y0), (x1, y1), (x0, y1))


def landed(pose: Pose, points: Iterable[Point]) -> list[Vector]:
    """Flat points of a piece where a facet's pose puts them; ``pose.apply(lift(p))`` of many."""
    (a, b, _), (c, d, _), (e, f, _) = pose.rotation
    x, y, z = pose.shift
    return [(a * u - b * v + x, c * u - d * v + y, e * u - f * v + z) for u, v in points]


def shape_of(region: Region) -> Shape:
    holes = tuple(tuple(flattened(hole, CHORD_MM)) for hole in region.holes)
    return shape_round(tuple(flattened(region.outer, CHORD_MM)), holes)


def shape_round(outer: tuple[Point, ...], holes: tuple[tuple[Point, ...], ...] = ()) -> Shape:
    xs, ys = [p[0] for p in outer], [p[1] for p in outer]
    return Shape(outer, holes, (min(xs), min(ys), max(xs), max(ys)))


def polygon_of(shape: Shape) -> Polygon:
    """The shape as a shapely polygon (shapely is loaded only where papers overlap)."""
    from shapely import Polygon

    return Polygon(shape.outer, shape.holes)


class Kit(Struct, frozen=True):
    """A pattern made ready. ``shapes`` is by (piece, facet), ``trees``, ``resting`` and
    ``looped`` (whether its folds run in a ring) by piece; ``pieces`` by piece name. ``solid``
    are things that are no paper, each with the angles that it always has."""

    pattern: Pattern
    pieces: Mapping[str, Piece]
    trees: Mapping[str, tuple[Joint, ...]]
    shapes: Mapping[tuple[str, str], Shape]
    areas: Mapping[tuple[str, str], float]
    resting: Mapping[str, str]
    looped: Mapping[str, bool]
    solid: Mapping[str, Mapping[str, float]]

    def hang(self, piece: str, angles: Mapping[str, float]) -> dict[str, Pose]:
        """Poses of the piece's facets relative to its first one."""
        return hang(self.pieces[piece], self.trees[piece], angles)

    def facets_of(self, piece: str, panel: str) -> tuple[str, ...]:
        """The facets of a panel, or the facet of that name."""
        facets = self.pieces[piece].facets
        own = tuple(f.name for f in facets if f.panel == panel)
        return own or tuple(f.name for f in facets if f.name == panel)


def _area(shape: Shape) -> float:
    def ring(points: tuple[Point, ...]) -> float:
        pairs = zip(points, points[1:] + points[:1], strict=True)
        return abs(sum(a[0] * b[1] - b[0] * a[1] for a, b in pairs)) / 2.0

    return ring(shape.outer) - sum(ring(hole) for hole in shape.holes)


def _resting_facet(piece: Piece, areas: Mapping[tuple[str, str], float]) -> str:
    """The facet that stays on the table when several folds turn at once: that which folds
    join to the most others, of those the largest, of those the first. In a chain, where none
    has more than two beside it, the largest: no folder stands on its spine."""

    def beside(facet: str) -> int:
        around = {
            h.parent if facet == h.child else h.child
            for h in piece.hinges
            if facet in (h.parent, h.child)
        }
        return len(around)

    names = [f.name for f in piece.facets]
    count = {name: beside(name) for name in names}
    size = {name: round(areas[piece.name, name], 3) for name in names}
    chain = max(count.values(), default=0) <= 2
    return max(
        names,
        key=lambda name: (size[name], count[name]) if chain else (count[name], size[name]),
        default="",
    )


def _looped(piece: Piece, tree: tuple[Joint, ...]) -> bool:
    return len({(h.fold, h.parent, h.child) for h in piece.hinges}) > len(tree)


def kit_of(pattern: Pattern, things: Iterable[str] = ()) -> Kit:
    """The pattern made ready; ``things`` are those of its pieces that are no paper."""
    shapes = {(p.name, f.name): shape_of(f.region) for p in pattern.pieces for f in p.facets}
    areas = {key: _area(shape) for key, shape in shapes.items()}
    trees = {p.name: joints(p) for p in pattern.pieces}
    return Kit(
        pattern=pattern,
        pieces={p.name: p for p in pattern.pieces},
        trees=trees,
        shapes=shapes,
        areas=areas,
        resting={p.name: _resting_facet(p, areas) for p in pattern.pieces},
        looped={p.name: _looped(p, trees[p.name]) for p in pattern.pieces},
        solid={name: closed_angles(pattern.piece(name)) for name in things},
    )


def body_id(piece: str, copy: int) -> str:
    return f"{piece.replace(' ', '-')}-{copy}"
