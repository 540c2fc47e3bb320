"""Close-ups: where what an action is about is too small on paper to be read, it is drawn again,
larger, in a circle. A small ring goes round the place, and a line leads from it to the circle.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
import shapely
from msgspec.structs import replace
from shapely.geometry.base import BaseGeometry

from publisher.drawing.space_view.arrows import arrow
from publisher.drawing.space_view.circles import RADII_MM, Circled
from publisher.drawing.space_view.crosses import FreeArea
from publisher.drawing.space_view.dress import arrow_items, glue_items, strokes
from publisher.drawing.space_view.faces import Scene, face_fills
from publisher.drawing.space_view.glued import GlueArea
from publisher.drawing.space_view.ink import all_paths
from publisher.drawing.space_view.lines import Drawn
from publisher.drawing.space_view.many import many
from publisher.drawing.space_view.motions import PlacedArrow
from publisher.drawing.space_view.strips import Detail, middle, times_for
from publisher.drawing.space_view.visible import cleaned
from publisher.drawing.space_view.waste import Waste, left_items
from publisher.drawing.types import Item, Stroke
from publisher.geometry.path import Line, Path, Point, circle

_BEYOND_MM = 1.0
_FILLS = 0.9  # of the circle's radius a part that it shows whole
_OFF_ARROW_MM = 0.3
_ARROW_IN_MM = 1.2  # from the circle to an arrow in it


def of_whole(area: BaseGeometry) -> Detail:
    """All of a part that is small, so large that it fills the circle."""
    x0, y0, x1, y1 = area.bounds
    half = max(math.hypot(x1 - x0, y1 - y0) / 2.0, 1e-3)
    return Detail("fold", (middle(area),), times_for(half, _FILLS * RADII_MM[-1]))


def larger_arrow(one: PlacedArrow, detail: Circled) -> PlacedArrow:
    """An arrow as the circle shows it: as thick as elsewhere, as long as there is room."""
    x, y = detail.middle
    disc = shapely.Point(x * detail.times, y * detail.times).buffer(detail.radius_mm - _ARROW_IN_MM)
    whole = shapely.LineString([(px * detail.times, py * detail.times) for px, py in one.path])
    kept = shapely.get_coordinates(shapely.intersection(whole, disc))
    path = tuple((float(px), float(py)) for px, py in kept) or one.path
    cut = math.dist(path[0], whole.coords[0])
    behind = max(0.0, one.behind * detail.times - cut)
    return replace(one, path=path, shape=arrow(path, one.kind, behind), behind=behind)


def magnified(scene: Scene, detail: Circled) -> Scene:
    """The scene drawn larger about the origin: the facets in and near the ring, and what is seen
    of them there."""
    times = detail.times
    near = shapely.Point(detail.middle).buffer(detail.ring_mm + _BEYOND_MM)
    there = shapely.intersects(many(item.area for item in scene.items), near)
    there |= np.array([item.plane is None for item in scene.items], dtype=bool)
    kept = [item for item, close in zip(scene.items, there, strict=True) if close]
    items = tuple(
        replace(
            item,
            matrix=item.matrix * times,
            shift=item.shift * times,
            area=_larger(item.area, times),
            plane=None if item.plane is None else item.plane * (1.0, 1.0, times),
        )
        for item in kept
    )
    seen = shapely.intersection(many(scene.seen)[there], near)
    larger = tuple(_larger(area, times) for area in cleaned(seen))
    return Scene(items, larger, silhouette=_larger(scene.silhouette, times))


def _larger(area: BaseGeometry, times: float) -> BaseGeometry:
    found: BaseGeometry = shapely.transform(area, lambda points: points * times)
    return found


def items(
    detail: Circled,
    shift: Point,
    scene: Scene,
    lines: Sequence[Drawn],
    glue: Sequence[GlueArea],
    arrows: Sequence[PlacedArrow] = (),
    wastes: Sequence[Waste] = (),
    name: str = "close-up",
) -> list[Item]:
    """The close-up as items, of the magnified scene with its lines and glue."""
    at = (detail.middle[0] * detail.times, detail.middle[1] * detail.times)
    disc = shapely.Point(at).buffer(detail.radius_mm, quad_segs=32)
    centre = (detail.centre[0] + shift[0], detail.centre[1] + shift[1])
    moved = (centre[0] - at[0], centre[1] - at[1])
    seen = cleaned(shapely.intersection(many(scene.seen), disc))
    found: list[Item] = list(face_fills(Scene(scene.items, tuple(seen)), moved))
    areas = cleaned(shapely.intersection(many(g.area for g in glue), disc))
    taking = [replace(g, area=a) for g, a in zip(glue, areas, strict=True) if not a.is_empty]
    found += glue_items(taking, moved)
    found += left_items(wastes, moved, disc, detail.times)
    clipped = [replace(d, geometry=shapely.intersection(d.geometry, disc)) for d in lines]
    found += strokes([d for d in clipped if not d.geometry.is_empty], moved)
    found += arrow_items([larger_arrow(one, detail) for one in arrows], moved)
    found = [replace(item, id=f"{name}-{item.id}") for item in found]
    found.append(Stroke("outline", (circle(centre, detail.radius_mm),), name))
    return found


def ring_items(
    detail: Circled, shift: Point, arrows: BaseGeometry, name: str = "close-up"
) -> list[Item]:
    """The ring, which stops short of ``arrows``, and its leader to the circle."""
    ring = (detail.middle[0] + shift[0], detail.middle[1] + shift[1])
    paths: tuple[Path, ...] = (circle(ring, detail.ring_mm),)
    line, near = shapely.boundary(detail.ring), shapely.buffer(arrows, _OFF_ARROW_MM)
    if shapely.intersects(line, near):
        (paths,) = all_paths([shapely.line_merge(shapely.difference(line, near))], shift)
    a, b = ((p[0] + shift[0], p[1] + shift[1]) for p in detail.leader)
    return [
        Stroke("leader", paths, f"{name}-ring"),
        Stroke("leader", (Path((Line(a, b),), closed=False),), f"{name}-line"),
    ]


def free_in(
    detail: Circled, free: Sequence[FreeArea], shift: Point
) -> tuple[list[FreeArea], Point]:
    """Of magnified areas that stay free of glue what the circle shows, and how far it is
    moved."""
    at = (detail.middle[0] * detail.times, detail.middle[1] * detail.times)
    disc = shapely.Point(at).buffer(detail.radius_mm - _ARROW_IN_MM)
    parts = cleaned(shapely.intersection(many(one.area for one in free), disc))
    shown = [
        replace(one, area=part) for one, part in zip(free, parts, strict=True) if not part.is_empty
    ]
    x, y = detail.centre
    return shown, (x + shift[0] - at[0], y + shift[1] - at[1])
