"""The scene on paper: facets in their colours, edges, and what is hidden."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence, Set

import numpy as np
import shapely
from msgspec import Struct
from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from publisher.assembly.types import FacetId
from publisher.drawing.space_view.camera import Camera
from publisher.drawing.space_view.ink import all_paths
from publisher.drawing.space_view.many import joined, joined_strips, many, united
from publisher.drawing.space_view.projected import Projected, project
from publisher.drawing.space_view.shapes import PieceShape, piece_shape
from publisher.drawing.space_view.stage import Stage
from publisher.drawing.space_view.together import Together, taken_together
from publisher.drawing.space_view.visible import layer_table, occluders, visible_areas
from publisher.drawing.types import Fill, FillRole
from publisher.geometry.path import Point

# Fills reach this far under their lines, so that no renderer leaves a crack between them.
UNDER_LINE_MM = 0.04
_SAME_MM2 = 0.2
_EMPTY = Polygon()
RIM_MM = 0.7  # a face that is nowhere wider than twice this is a rim, too thin to point at


class Scene(Struct, frozen=True):
    """Facets on paper and what is seen of each; ghosts come last. ``groups`` are facets whose
    area together is known."""

    items: tuple[Projected, ...]
    seen: tuple[BaseGeometry, ...]
    groups: tuple[Together, ...] = ()
    silhouette: BaseGeometry = _EMPTY

    def area(self, body: str, facets: Sequence[str] | None = None) -> BaseGeometry:
        """What is seen of a body, or of some of its facets; clear paper is looked through."""
        return self.seen_together(
            k
            for k, item in enumerate(self.items)
            if item.actor.body == body
            and not (item.ghost or item.clear)
            and (facets is None or item.actor.facet in facets)
        )

    def seen_together(self, places: Iterable[int]) -> BaseGeometry:
        """What is seen of some facets."""
        own = frozenset(places)
        whole = frozenset(k for k in own if self.seen[k] is self.items[k].area)
        groups = [group for group in self.groups if group.places <= whole]
        rest = own.difference(*(group.places for group in groups))
        parts = [group.area for group in groups]
        for group in self.groups:
            strips = sorted(rest & group.places & whole)
            if len(strips) > 1:
                parts.append(joined_strips([self.seen[k] for k in strips]))
                rest = rest.difference(strips)
        return united([*parts, *(self.seen[k] for k in sorted(rest))])

    def whole_together(self, places: Iterable[int]) -> BaseGeometry:
        """The area of some facets, whether it is seen or not."""
        own = frozenset(places)
        groups = [group for group in self.groups if group.places <= own]
        rest = own.difference(*(group.places for group in groups))
        return united([*(g.area for g in groups), *(self.items[k].area for k in sorted(rest))])

    def _faces_of(self, body: str) -> list[BaseGeometry]:
        """What is seen of the facets of a body; of clear ones where all are."""
        own = [k for k, i in enumerate(self.items) if i.actor.body == body and not i.ghost]
        solid = [k for k in own if not self.items[k].clear]
        return [self.seen[k] for k in solid or own]

    def largest_mm2(self, body: str) -> float:
        """How much is seen of the facet of a body that shows most, rims and all."""
        own = self._faces_of(body)
        return float(shapely.area(many(own)).max())

    def largest_face(self, body: str) -> BaseGeometry:
        """What is seen of the facet of a body that shows most, thin rims left out, to the
        nearest 20 mm2, so that a small change makes no other facet the largest."""
        own = self._faces_of(body)
        best, largest = own[0], -1.0
        place = len(own)
        # no face is wider without its rim: those that are smaller anyway are not tried
        for k in np.argsort(-shapely.area(many(own)), kind="stable").tolist():
            if round(own[k].area / 20.0) < largest:
                break
            wide = round(shapely.buffer(own[k], -RIM_MM, quad_segs=1).area / 20.0)
            if (wide, -k) > (largest, -place):
                best, largest, place = own[k], wide, k
        return best


def set_scene(
    stage: Stage,
    shapes: Mapping[str, PieceShape],
    camera: Camera,
    clear: Set[FacetId] = frozenset(),
) -> Scene:
    """Project the stage and find what is seen. What is seen of the facets must come to as much
    as the whole; where that is not so, areas are joined and cut on the grid. ``clear`` facets
    hide nothing."""
    items = project(stage.actors, shapes, camera, clear=clear)
    items += project(stage.ghosts, shapes, camera, ghost=True)
    layers, after = layer_table(stage.above), layer_table(stage.above_after)
    hiding = occluders(items, layers, after, shapes)
    solid = [k for k, item in enumerate(items) if not (item.ghost or item.clear)]
    try:
        groups = tuple(taken_together(items, shapes, on_grid=False))
        seen = visible_areas(items, hiding, groups, on_grid=False)
        silhouette = joined(_shown(items, seen, groups))
        right = abs(silhouette.area - shapely.area(many(seen)[solid]).sum()) < _SAME_MM2
    except shapely.GEOSException:  # off the grid, edges were told apart too finely
        right = False
    if not right:
        groups = tuple(taken_together(items, shapes))
        seen = visible_areas(items, hiding, groups)
        silhouette = united(_shown(items, seen, groups))
    glass = [seen[k] for k, item in enumerate(items) if item.clear]
    if glass:
        silhouette = united([silhouette, *glass])
    return Scene(tuple(items), tuple(seen), groups, silhouette)


def _shown(
    items: Sequence[Projected], seen: Sequence[BaseGeometry], groups: Sequence[Together]
) -> list[BaseGeometry]:
    """The areas that make up the silhouette of solid paper: a facet of which nothing is seen lies
    behind others."""
    shown = {
        k
        for k, (item, a) in enumerate(zip(items, seen, strict=True))
        if not (item.ghost or item.clear or a.is_empty)
    }
    own = [group for group in groups if group.places & shown]
    rest = shown.difference(*(group.places for group in own))
    return [*(group.area for group in own), *(items[k].area for k in sorted(rest))]


def face_fills(scene: Scene, shift: Point, plain: frozenset[FacetId] = frozenset()) -> list[Fill]:
    """One fill for each facet that is seen, moved by ``shift``, and for the strips of a bend that
    lies flat and is seen whole, and over them a wash for each that is clear; ``plain`` are facets
    whose pattern is left out because something is drawn on the face that is seen."""
    drawn = _faces(scene)
    areas = many(area for _, area in drawn)
    wide = shapely.buffer(areas, UNDER_LINE_MM, join_style="mitre", mitre_limit=1.5)
    fills: list[Fill] = []
    patterned = [area for item, area in drawn if _printed(item)]
    printed = iter(all_paths(patterned, shift) if patterned else ())
    for (item, _), rings in zip(drawn, all_paths(wide, shift), strict=True):
        stock = item.actor.piece.stock
        role: FillRole = item.face
        if item.actor.moving:
            role = "front-moving" if item.face == "front" else "back-moving"
        name = f"{item.actor.body}-{item.actor.facet}".replace(" ", "-")
        fills.append(Fill(role, rings, stock.name, item.shade, f"face-{name}"))
        own = next(printed) if _printed(item) else ()
        if own and item.actor.id not in plain:
            fills.append(
                Fill(
                    "pattern" if item.face == "front" else "pattern-through",
                    own,
                    stock.name,
                    item.shade,
                    f"pattern-{name}",
                    plane=printed_plane(item, shift),
                )
            )
    return fills + _washes(scene, shift)


def _printed(item: Projected) -> bool:
    """Whether a pattern shows on a face: on the front, and faintly through the back of what moves
    now, so that it is seen which face is down."""
    return item.actor.piece.stock.patterned and (item.face == "front" or item.actor.moving)


def _washes(scene: Scene, shift: Point) -> list[Fill]:
    """For each facet drawn clear, over what is seen through it, so that it is felt as paper."""
    glass = [
        (item, area)
        for item, area in zip(scene.items, scene.seen, strict=True)
        if item.clear and not area.is_empty
    ]
    return [
        Fill(
            "front-clear" if item.face == "front" else "back-clear",
            rings,
            item.actor.piece.stock.name,
            item.shade,
            f"clear-{item.actor.body}-{item.actor.facet}".replace(" ", "-"),
        )
        for (item, _), rings in zip(glass, all_paths([a for _, a in glass], shift), strict=True)
    ]


def _faces(scene: Scene) -> list[tuple[Projected, BaseGeometry]]:
    faces = {
        k: (item, area)
        for k, (item, area) in enumerate(zip(scene.items, scene.seen, strict=True))
        if not (item.ghost or item.clear or area.is_empty)
    }
    for group in scene.groups:
        strips: dict[tuple[str, bool], list[int]] = {}
        for k in sorted(group.places & faces.keys()) if group.flat is not None else ():
            item = scene.items[k]
            bend = piece_shape(item.actor.piece).bend_of.get(item.actor.facet)
            if bend is not None and scene.seen[k] is item.area:
                strips.setdefault((bend, item.actor.moving), []).append(k)
        for first, *rest in strips.values():
            item = scene.items[first]
            names = tuple(scene.items[k].actor.facet for k in (first, *rest))
            if rest:
                sheet = piece_shape(item.actor.piece).sheet(names)
                faces[first] = (item, item.flat_to_paper(sheet))
            for k in rest:
                del faces[k]
    return list(faces.values())


def printed_plane(item: Projected, shift: Point) -> tuple[float, float, float, float, float, float]:
    """Where the flat piece, at the picture's scale, lies on paper, for what is printed on it."""
    scale = float(np.linalg.norm(item.matrix[:, 0]))
    (a, b), (c, d) = (item.matrix[:2] / scale).tolist()
    return (a, b, c, d, float(item.shift[0] + shift[0]), float(item.shift[1] + shift[1]))
