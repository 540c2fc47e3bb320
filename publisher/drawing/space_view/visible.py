"""Hidden faces: what is seen of each facet, computed on polygons.

For each pair of facets that overlap on paper, their depths are compared over the overlap
itself (an affine function, so its vertices decide), not by sorting whole faces. Facets that
lie on each other go by the layer order. What lies nearer is taken away from what lies behind.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np
import numpy.typing as npt
import shapely
from msgspec import Struct
from shapely import MultiPolygon, Polygon
from shapely.geometry.base import BaseGeometry

from publisher.assembly.types import FacetId
from publisher.drawing.space_view.camera import Array, Camera
from publisher.drawing.space_view.many import GRID_MM, Geometries, many
from publisher.drawing.space_view.shapes import PieceShape
from publisher.drawing.space_view.stage import Actor
from publisher.geometry.space import dot
from publisher.model.types import Face

DEPTH_MM = 1e-4  # nearer than this is lying on each other
_LAYER_MM = 3.0  # facets whose order is known lie nearer than this
SLIVER_MM = 0.02  # narrower than this is no area
_EDGE_ON = 1e-3  # sine of the angle between facet and line of sight
_EMPTY = Polygon()
_NO_PLANE = np.zeros(3)

Layers = Mapping[tuple[FacetId, FacetId], int]


class Projected(Struct, frozen=True):
    """One facet on paper. ``plane`` gives nearness as a x + b y + c; None when edge-on."""

    actor: Actor
    matrix: Array
    shift: Array
    area: BaseGeometry
    plane: Array | None
    face: Face
    shade: float
    ghost: bool = False

    def flat_to_paper(self, geometry: Any) -> Any:
        """Carry flat geometry of the piece (or an array of it) onto paper."""

        def carry(points: Array) -> Array:
            return np.asarray(points @ self.matrix[:2].T + self.shift[:2])

        return shapely.transform(geometry, carry)

    def nearness(self, points: Array) -> Array:
        """Of paper points (n, 2) on the facet; only where it is not edge-on."""
        assert self.plane is not None
        return np.asarray(points @ self.plane[:2] + self.plane[2])


def project(
    actors: Sequence[Actor], shapes: Mapping[str, PieceShape], camera: Camera, ghost: bool = False
) -> list[Projected]:
    """Every facet on paper, in the order given."""
    matrices, shifts = camera.flat_maps([actor.pose for actor in actors])
    normals = [actor.pose.normal for actor in actors]
    slants = [dot(camera.toward, normal) for normal in normals]
    areas = carried([shapes[a.piece.name].facets[a.facet].paper for a in actors], matrices, shifts)
    found = []
    for k, actor in enumerate(actors):
        level = abs(slants[k]) > _EDGE_ON
        face: Face = "front" if slants[k] >= 0 else "back"
        found.append(
            Projected(
                actor,
                matrices[k],
                shifts[k],
                areas[k] if level else _EMPTY,
                _plane(matrices[k], shifts[k]) if level else None,
                face,
                camera.shade(normals[k]),
                ghost,
            )
        )
    return found


def carried(flat: Sequence[BaseGeometry], matrices: Array, shifts: Array) -> Geometries:
    """Flat geometries onto paper, each by its own map (as ``Camera.flat_maps`` gives them)."""
    geometries = many(flat)
    points, of = shapely.get_coordinates(geometries, return_index=True)
    placed = np.einsum("nij,nj->ni", matrices[of, :2], points) + shifts[of, :2]
    found: Geometries = shapely.set_coordinates(geometries, placed)
    return found


def _plane(matrix: Array, shift: Array) -> Array:
    """Nearness as a function of the place on paper: slopes and constant, by Cramer's rule."""
    (a, b), (c, d), (e, f) = matrix.tolist()
    whole = a * d - b * c
    along, down = (e * d - f * c) / whole, (f * a - e * b) / whole
    return np.array([along, down, shift[2] - along * shift[0] - down * shift[1]])


def layer_table(above: Sequence[tuple[FacetId, FacetId, int]]) -> Layers:
    """Pairs of facets both ways round: (a, b) -> +1 where b lies on a's front side, -1 back."""
    return {(lower, upper): side for lower, upper, side in above}


def _contact(a: Projected, b: Projected, layers: Layers) -> bool:
    """Whether ``a`` is nearer, of two facets that lie on each other."""
    side = layers.get((a.actor.id, b.actor.id))
    if side is not None:
        return (side > 0) != (a.face == "front")
    side = layers.get((b.actor.id, a.actor.id))
    if side is not None:
        return (side > 0) == (b.face == "front")
    # Nobody said. A ghost is drawn on what is there; a tab lies behind the panel it meets
    # (common practice, no source); else the later facet lies on the earlier one.
    if a.ghost != b.ghost:
        return a.ghost
    tabs = [_is_tab(a), _is_tab(b)]
    if tabs[0] != tabs[1]:
        panel_shows_front = (b if tabs[0] else a).face == "front"
        return tabs[1] == panel_shows_front
    return False


def _ordered(a: Projected, b: Projected, layers: Layers, most: float, least: float) -> bool:
    """Whether the order of two parallel facets is known that lie near each other: it counts
    more than their planes, for those of folds have no thickness. A liner that is glued inside a
    card lies beyond the plane of the other half when that is closed."""
    if a.ghost or b.ghost or most - least > DEPTH_MM or max(most, -least) > _LAYER_MM:
        return False
    return (a.actor.id, b.actor.id) in layers or (b.actor.id, a.actor.id) in layers


def _is_tab(item: Projected) -> bool:
    piece, facet = item.actor.piece, item.actor.piece.facet(item.actor.facet)
    return any(p.name == facet.panel and p.kind == "tab" for p in piece.panels)


def _nearer_part(overlap: BaseGeometry, difference: Array) -> BaseGeometry:
    """The part of ``overlap`` where the affine ``difference`` (a, b, c) is positive."""
    a, b, c = difference
    length = float(np.hypot(a, b))
    normal = np.array([a, b]) / length
    foot = -c / length * normal
    along = np.array([-normal[1], normal[0]])
    x0, y0, x1, y1 = overlap.bounds
    reach = 2.0 * (abs(x0) + abs(x1) + abs(y0) + abs(y1) + float(np.abs(foot).sum()) + 1.0)
    corners = (
        foot + along * reach,
        foot + (along + normal) * reach,
        foot + (normal - along) * reach,
        foot - along * reach,
    )
    part = shapely.intersection(overlap, Polygon(corners))
    if part.geom_type == "GeometryCollection":  # with edges that only touch the line
        part = MultiPolygon([p for p in shapely.get_parts(part) if p.geom_type == "Polygon"])
    return part


def clean(area: BaseGeometry) -> BaseGeometry:
    """The polygons of an area without slivers and without pinholes."""
    return cleaned([area])[0]


def cleaned(areas: Sequence[BaseGeometry] | Geometries) -> list[BaseGeometry]:
    """``clean`` for many at once."""
    parts, owners = shapely.get_parts(many(areas), return_index=True)
    wide = (shapely.get_type_id(parts) == 3) & _have_width(parts)
    for k in np.flatnonzero(wide & (shapely.get_num_interior_rings(parts) > 0)):
        holes = many(parts[k].interiors)
        real = _have_width(many(Polygon(hole) for hole in holes))
        if not real.all():
            parts[k] = Polygon(parts[k].exterior, list(holes[real]))
    kept: list[list[Polygon]] = [[] for _ in areas]
    for k in np.flatnonzero(wide):
        kept[owners[k]].append(parts[k])
    return [own[0] if len(own) == 1 else MultiPolygon(own) if own else _EMPTY for own in kept]


def _have_width(parts: Geometries) -> npt.NDArray[np.bool_]:
    return np.asarray(2.0 * shapely.area(parts) > SLIVER_MM * shapely.length(parts))


def occluders(
    items: Sequence[Projected], layers: Layers, layers_after: Layers
) -> list[list[BaseGeometry]]:
    """For each facet, the areas on paper in which another one is nearer.

    A ghost hides nothing; it can be hidden, and lies among the others as ``layers_after``
    tells.
    """
    hiding: list[list[BaseGeometry]] = [[] for _ in items]
    areas = many(item.area for item in items)
    ghosts = np.array([item.ghost for item in items], dtype=bool)
    planes = np.array([_NO_PLANE if i.plane is None else i.plane for i in items]).reshape(-1, 3)
    first, second = shapely.STRtree(areas).query(areas, predicate="intersects")
    wanted = (first < second) & ~(ghosts[first] & ghosts[second])
    first, second = first[wanted], second[wanted]
    order = np.lexsort((second, first))
    first, second = first[order], second[order]

    # What lies flat beside each other in one piece meets at most along a fold.
    apart = ~_beside(items, first, second)
    first, second = first[apart], second[apart]
    # Where one plane is nearer over the whole box that two facets share, no more is asked.
    gaps = planes[first] - planes[second]
    most, least = _reach(gaps, areas, first, second)
    unclear = ~((least > DEPTH_MM) | (most < -DEPTH_MM))
    overlaps = np.full(len(first), None, dtype=object)
    overlaps[unclear] = shapely.intersection(areas[first[unclear]], areas[second[unclear]])
    touching = unclear & ~(shapely.area(overlaps) > SLIVER_MM**2)
    points, of = shapely.get_coordinates(overlaps, return_index=True)
    depths = points[:, 0] * gaps[of, 0] + points[:, 1] * gaps[of, 1] + gaps[of, 2]
    most[unclear], least[unclear] = -np.inf, np.inf
    np.maximum.at(most, of, depths)
    np.minimum.at(least, of, depths)

    for k in np.flatnonzero(~touching):
        i, j = int(first[k]), int(second[k])
        a, b = items[i], items[j]
        a_area, b_area = a.area, b.area
        if _ordered(a, b, layers, float(most[k]), float(least[k])):
            a_first = _contact(a, b, layers)
            b_first = not a_first
        elif unclear[k]:
            a_first, b_first = bool(most[k] > DEPTH_MM), bool(least[k] < -DEPTH_MM)
            if a_first and b_first:
                a_area = _nearer_part(overlaps[k], gaps[k])
                b_area = _nearer_part(overlaps[k], -gaps[k])
            elif not a_first and not b_first:
                order_now = layers_after if a.ghost or b.ghost else layers
                a_first = _contact(a, b, order_now)
                b_first = not a_first
        else:
            a_first = bool(least[k] > 0)
            b_first = not a_first
        if a_first and not a.ghost:
            hiding[j].append(a_area)
        if b_first and not b.ghost:
            hiding[i].append(b_area)
    return hiding


def _beside(items: Sequence[Projected], first: Any, second: Any) -> npt.NDArray[np.bool_]:
    """Which pairs are facets of one body in one pose."""
    names = [f"{item.actor.body} at last" if item.ghost else item.actor.body for item in items]
    bodies = np.unique(names, return_inverse=True)[1] if names else np.zeros(0, dtype=int)
    maps = np.array([(*i.matrix.ravel(), *i.shift) for i in items]).reshape(-1, 9)
    same = np.abs(maps[first] - maps[second]).max(axis=1, initial=0.0) < 1e-9
    return np.asarray(same & (bodies[first] == bodies[second]))


def _reach(gaps: Array, areas: Any, first: Any, second: Any) -> tuple[Array, Array]:
    """The greatest and least difference of nearness over the box that each pair shares."""
    bounds = shapely.bounds(areas)
    a, b = bounds[first], bounds[second]
    low, high = np.maximum(a[:, :2], b[:, :2]), np.minimum(a[:, 2:], b[:, 2:])
    corners = [
        gaps[:, 0] * x[:, 0] + gaps[:, 1] * y[:, 1] + gaps[:, 2]
        for x in (low, high)
        for y in (low, high)
    ]
    return np.max(corners, axis=0), np.min(corners, axis=0)


def visible_areas(
    items: Sequence[Projected], hiding: Sequence[Sequence[BaseGeometry]]
) -> list[BaseGeometry]:
    """What is seen of each facet, without slivers; empty for one seen edge-on."""
    seen = many(item.area for item in items)
    over = many(a for areas in hiding for a in areas)
    of = np.repeat(np.arange(len(items)), [len(areas) for areas in hiding])
    shapely.prepare(over)
    gone = np.zeros(len(items), dtype=bool)
    gone[of[shapely.covers(over, seen[of])]] = True
    seen[gone] = _EMPTY
    cut = [k for k, areas in enumerate(hiding) if areas and not gone[k]]
    taken = [
        areas[0] if len(areas) == 1 else shapely.union_all(many(areas), grid_size=GRID_MM)
        for areas in (hiding[k] for k in cut)
    ]
    seen[cut] = shapely.difference(seen[cut], many(taken), grid_size=GRID_MM)
    return cleaned(seen)
