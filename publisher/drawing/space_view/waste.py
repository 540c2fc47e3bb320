"""What is cut and not yet pressed out: until its step it is paper, with the cut line round it.

In the picture of its step it is what moves, and one piece of it is drawn on its way out, pushed
from behind.
"""

from __future__ import annotations

import math
from collections.abc import Collection, Iterator, Mapping, Sequence

import shapely
import shapely.affinity
from msgspec import Struct
from msgspec.structs import replace
from shapely import Polygon
from shapely.geometry.base import BaseGeometry
from shapely.ops import polylabel

from publisher.assembly.types import Frame, Mark
from publisher.drawing.space_view.arrows import HALO_MM, arrow
from publisher.drawing.space_view.camera import Camera
from publisher.drawing.space_view.faces import Scene
from publisher.drawing.space_view.ink import area_paths
from publisher.drawing.space_view.marks import path_line
from publisher.drawing.space_view.motions import MOVE_TAIL_MM, PlacedArrow
from publisher.drawing.space_view.projected import Projected, project
from publisher.drawing.space_view.shapes import CHORD_MM, PieceShape, piece_shape
from publisher.drawing.space_view.stage import Stage
from publisher.drawing.types import Fill, FillRole, Item, Stroke
from publisher.geometry.path import Path, Point
from publisher.geometry.space import scaled
from publisher.model.types import Facet, Piece

_ON_MM = 2.0 * CHORD_MM  # so near two lines lie that are one, its arcs chords
_LARGE = 0.5  # as a part of the largest: so large is the piece that is drawn on its way out
_WAY_MM = 5.5  # so far the piece on its way out is drawn from its hole
_HIDDEN_SHARE = 0.3
_STEEP, _STRAIGHT_UP = 0.2, (0.6, -0.8)  # a way that goes straight at the eye is drawn so
_PAST_MM = 0.8  # a piece that its arrow would hide is drawn so far past the arrow's tip

Names = frozenset[tuple[str, str]]


class Waste(Struct, frozen=True):
    """What is pressed out of a body: ``left`` are the pieces still in their holes, with the facet
    that each lies in, ``area`` the one on its way out, as it is drawn, with its arrow."""

    body: str
    left: tuple[tuple[Projected, BaseGeometry], ...]
    item: Projected
    area: BaseGeometry
    arrow: PlacedArrow


def pressed(frame: Frame, pieces: Mapping[str, Piece]) -> Names:
    """The openings (body, name) that a frame presses out. ``pieces`` by name."""
    names = {body.id: body.piece for body in frame.before.bodies}
    found = set()
    for mark in frame.motions:
        if isinstance(mark, Mark) and mark.what == "press":
            openings = {o.name for o in pieces[names[mark.body]].openings if o.kind == "window"}
            found |= {(mark.body, name) for name in mark.names if name in openings}
    return frozenset(found)


def pressed_later(frames: Sequence[Frame], pieces: Mapping[str, Piece]) -> list[Names]:
    """For each frame the windows that it or a later one presses out. ``pieces`` by name."""
    found: list[Names] = []
    later: Names = frozenset()
    for frame in reversed(frames):
        later |= pressed(frame, pieces)
        found.append(later)
    return found[::-1]


def holes(piece: Piece, names: Collection[str]) -> list[tuple[str, Path]]:
    """The rings that windows of these names cut, each with its facet: of one that bridges cross,
    one for each of its parts. What lies across a fold is none: it is always drawn open."""
    areas = [
        shapely.buffer(Polygon(path_line(o.path)), _ON_MM)
        for o in piece.openings
        if o.name in names and o.kind == "window"
    ]
    rings = [(f.name, ring) for f in piece.facets for ring in f.region.holes] if areas else []
    return [(f, ring) for f, ring in rings if any(a.covers(path_line(ring)) for a in areas)]


def filled(
    stage: Stage, shapes: Mapping[str, PieceShape], out: Names, leaving: Mapping[str, Leaving]
) -> tuple[Stage, Mapping[str, PieceShape]]:
    """The stage and its shapes with paper where a window is not yet pressed out, also where one
    comes ``out`` now, but for what is ``leaving``. Copies of a piece are filled where all are."""
    there = stage.unmade | stage.in_place | out
    found: dict[str, PieceShape] = {}
    closed: dict[str, Piece] = {}
    for name in dict.fromkeys(actor.piece.name for actor in stage.actors if there):
        bodies = [b for b in stage.bodies if stage.of(b)[0].piece.name == name]
        piece = stage.of(bodies[0])[0].piece
        named = {o.name for o in piece.openings}
        rings = holes(piece, {n for n in named if all((b, n) in there for b in bodies)})
        gone = [leaving[body].ring for body in bodies if body in leaving]
        left = [ring for _, ring in rings if ring not in gone]
        if left:
            closed[name] = _closed(piece, left)
            found[name] = piece_shape(closed[name])
    if not closed:
        return stage, shapes
    actors = tuple(replace(a, piece=closed.get(a.piece.name, a.piece)) for a in stage.actors)
    return replace(stage, actors=actors), {**shapes, **found}


class Leaving(Struct, frozen=True):
    """The ring of the piece that is drawn on its way out of a body, with its facet; the rest."""

    facet: str
    ring: Path
    left: tuple[tuple[str, Path], ...]


def leaving(
    stage: Stage, shapes: Mapping[str, PieceShape], out: Names, camera: Camera
) -> dict[str, Leaving]:
    """For each body of which something is pressed out, the piece that is drawn on its way: a large
    one that covers as little of the others as can be."""
    found = {}
    for body in sorted({body for body, _ in out}):
        rings = holes(stage.of(body)[0].piece, {name for b, name in out if b == body})
        hosts = {f: project([stage.actor(body, f)], shapes, camera)[0] for f, _ in rings}
        areas = [_on_paper(hosts[f], ring) for f, ring in rings]
        tree = shapely.STRtree(areas)
        least = _LARGE * max((area.area for area in areas), default=0.0)
        options = []
        for k, area in enumerate(areas):
            moved = _moved(area, _way(hosts[rings[k][0]], camera), _WAY_MM)
            met = [areas[n] for n in sorted(tree.query(moved, "intersects")) if n != k]
            others = float(shapely.area(shapely.intersection(moved, met)).sum()) if met else 0.0
            options.append((area.area < least, round(10.0 * others / area.area), k))
        if options:
            k = min(options)[-1]
            facet, ring = rings[k]
            found[body] = Leaving(facet, ring, (*rings[:k], *rings[k + 1 :]))
    return found


def _closed(piece: Piece, rings: Sequence[Path]) -> Piece:
    """The same piece with paper in some holes of its facets."""

    def whole(facet: Facet) -> Facet:
        kept = tuple(hole for hole in facet.region.holes if hole not in rings)
        return replace(facet, region=replace(facet.region, holes=kept))

    return replace(piece, facets=tuple(whole(f) if f.region.holes else f for f in piece.facets))


def pressed_out(scene: Scene, leaving: Mapping[str, Leaving], camera: Camera) -> list[Waste]:
    """What is drawn of that which is pressed out."""
    found = []
    for body, one in leaving.items():
        own = {
            item.actor.facet: (item, seen)
            for item, seen in zip(scene.items, scene.seen, strict=True)
            if item.actor.body == body and not item.ghost
        }
        left = []
        for facet, ring in one.left:
            item, seen = own[facet]
            left.append((item, shapely.intersection(_on_paper(item, ring), seen)))
        item = own[one.facet][0]
        found.append(_leaving(body, tuple(left), item, _on_paper(item, one.ring), camera))
    return found


def _way(item: Projected, camera: Camera) -> Point:
    """Which way on paper what is pushed from behind comes out of a facet."""
    towards = 1.0 if item.face == "front" else -1.0
    x, y = camera.direction(scaled(item.actor.pose.normal, towards))
    far = math.hypot(x, y)
    return (x / far, y / far) if far > _STEEP else _STRAIGHT_UP


def _on_paper(item: Projected, ring: Path) -> BaseGeometry:
    area: BaseGeometry = item.flat_to_paper(Polygon(path_line(ring)))
    return area


def _leaving(
    body: str,
    left: tuple[tuple[Projected, BaseGeometry], ...],
    item: Projected,
    hole: BaseGeometry,
    camera: Camera,
) -> Waste:
    way = _way(item, camera)
    middle = polylabel(hole, 0.1) if isinstance(hole, Polygon) else hole.centroid
    tail = (middle.x - way[0] * MOVE_TAIL_MM, middle.y - way[1] * MOVE_TAIL_MM)
    tip = (middle.x + way[0] * _WAY_MM, middle.y + way[1] * _WAY_MM)
    drawn = arrow((tail, tip), "move", MOVE_TAIL_MM)
    area = _moved(hole, way, _WAY_MM)
    if shapely.intersection(area, drawn.halo).area > _HIDDEN_SHARE * area.area:
        points = shapely.get_coordinates(hole) - (middle.x, middle.y)
        area = _moved(hole, way, _WAY_MM + _PAST_MM - float((points @ way).min()))
    placed = PlacedArrow("move", body, "waste", (tail, tip), drawn, behind=MOVE_TAIL_MM)
    return Waste(body, left, item, area, placed)


def _moved(area: BaseGeometry, way: Point, far: float) -> BaseGeometry:
    return shapely.affinity.translate(area, way[0] * far, way[1] * far)


def left_items(
    wastes: Sequence[Waste], shift: Point, window: BaseGeometry | None = None, times: float = 1.0
) -> Iterator[Item]:
    """What is still in its holes, as what moves; so many times larger, as far as it lies in a
    ``window``."""
    for one in wastes:
        for k, (item, area) in enumerate(one.left):
            shown = area
            if window is not None:
                larger = shapely.transform(area, lambda points: points * times)
                shown = shapely.intersection(larger, window)
            if not shown.is_empty:
                yield _fill(item, shown, shift, f"face-{one.body}-waste-{k}")


def leaving_items(wastes: Sequence[Waste], shift: Point) -> Iterator[Item]:
    """The pieces on their way out, over all else."""
    for one in wastes:
        rings = area_paths(one.area, shift)
        yield Fill("halo", area_paths(shapely.buffer(one.area, HALO_MM), shift))
        yield _fill(one.item, one.area, shift, f"face-{one.body}-waste-out")
        yield Stroke("outline-moving", rings, f"waste-{one.body}")


def _fill(item: Projected, area: BaseGeometry, shift: Point, name: str) -> Fill:
    role: FillRole = "front-moving" if item.face == "front" else "back-moving"
    return Fill(role, area_paths(area, shift), item.actor.piece.stock.name, item.shade, name)
