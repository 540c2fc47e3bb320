"""Close-ups: where what an action is about is too small on paper to be read, it is drawn again,
larger, in a circle. A small ring goes round the place, and a line leads from it to the circle.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
import shapely
from msgspec import Struct
from msgspec.structs import replace
from shapely.geometry.base import BaseGeometry

from publisher.drawing.space_view.arrows import arrow
from publisher.drawing.space_view.camera import Array
from publisher.drawing.space_view.dress import arrow_items, glue_items, strokes
from publisher.drawing.space_view.faces import Scene, face_fills
from publisher.drawing.space_view.lines import Drawn
from publisher.drawing.space_view.many import many
from publisher.drawing.space_view.marks import GlueArea
from publisher.drawing.space_view.motions import PlacedArrow
from publisher.drawing.space_view.placing import Ground, Placement, Request, place
from publisher.drawing.space_view.visible import cleaned
from publisher.drawing.types import Item, LineRole, Stroke
from publisher.geometry.path import Line, Path, Point, circle

LEAST_MM = 8.0
"""A line or a glue zone that is nowhere longer on paper is too small to be told."""
RADII_MM = (11.0, 8.5)
"""Of the circle; the smaller one where there is no room for the larger."""
HIGHEST_MM = 72.0  # so high may a picture grow for the circle
WANTED_MM = 13.0  # so long is the detail to be in the circle
LARGER = (2.0, 5.0)
_MARKED: tuple[LineRole, ...] = ("cut", "mountain", "valley")
_ALIKE_MM = 0.5
_BEYOND_MM = 1.0
_FILLS = 0.9  # of the circle's radius a part that it shows whole
_ARROW_IN_MM = 1.2  # from the circle to an arrow in it


class Detail(Struct, frozen=True):
    """A place on paper, and how many times larger it is drawn."""

    middle: Point
    times: float
    radius_mm: float = RADII_MM[0]

    @property
    def ring_mm(self) -> float:
        return self.radius_mm / self.times

    @property
    def ring(self) -> BaseGeometry:
        return shapely.Point(self.middle).buffer(self.ring_mm)


def _middle(geometry: BaseGeometry) -> Point:
    x0, y0, x1, y1 = geometry.bounds
    return ((x0 + x1) / 2.0, (y0 + y1) / 2.0)


def _length(area: BaseGeometry) -> float:
    """The longer side of the smallest rectangle round an area."""
    corners: Array = shapely.get_coordinates(shapely.minimum_rotated_rectangle(area))
    if len(corners) < 3:
        return 0.0
    return float(np.hypot(*(corners[1:3] - corners[:2]).T).max())


def find_details(lines: Sequence[Drawn], glue: Sequence[GlueArea]) -> list[Detail]:
    """What is too small: a kind of line that is marked now, of which not one is long enough,
    or the glue where all of it is small. The longest stand for the rest."""
    small: list[tuple[float, Point]] = []
    for role in _MARKED:
        parts = shapely.get_parts(many(d.geometry for d in lines if d.role == role))
        parts = parts[~shapely.is_empty(parts)]
        if len(parts) and shapely.length(parts).max() < LEAST_MM:
            small += [(float(part.length), _middle(part)) for part in parts]
    if not small:
        sizes = [(_length(g.area), _middle(g.area)) for g in glue]
        if sizes and max(size for size, _ in sizes) < LEAST_MM:
            seen = [s for s, g in zip(sizes, glue, strict=True) if not g.through]
            small = seen or sizes
    least, most = LARGER
    longest = max((size for size, _ in small), default=0.0)
    times = min(most, max(least, WANTED_MM / max(longest, 1e-3)))
    return [Detail(middle, times) for size, middle in small if size > longest - _ALIKE_MM]


def of_whole(area: BaseGeometry) -> Detail:
    """All of a part that is small, so large that it fills the circle."""
    x0, y0, x1, y1 = area.bounds
    half = max(math.hypot(x1 - x0, y1 - y0) / 2.0, 1e-3)
    least, most = LARGER
    return Detail(_middle(area), min(most, max(least, _FILLS * RADII_MM[1] / half)))


def larger_arrow(one: PlacedArrow, detail: Detail) -> PlacedArrow:
    """An arrow as the circle shows it: as thick as elsewhere, as long as there is room."""
    x, y = detail.middle
    disc = shapely.Point(x * detail.times, y * detail.times).buffer(detail.radius_mm - _ARROW_IN_MM)
    whole = shapely.LineString([(px * detail.times, py * detail.times) for px, py in one.path])
    kept = shapely.get_coordinates(shapely.intersection(whole, disc))
    path = tuple((float(px), float(py)) for px, py in kept) or one.path
    cut = math.dist(path[0], whole.coords[0])
    behind = max(0.0, one.behind * detail.times - cut)
    return replace(one, path=path, shape=arrow(path, one.kind, behind), behind=behind)


def placed(details: Sequence[Detail], ground: Ground) -> tuple[Detail | None, Placement | None]:
    """The detail nearest to the room that is found for the circle, and the circle with the
    line from the ring to it; nothing where there is no room."""
    if not details:
        return None, None
    for radius in RADII_MM:
        room = place([Request("", None, 2.0 * radius, 2.0 * radius)], ground)
        if room:
            return _led(details, radius, room[0])
    return None, None


def _led(details: Sequence[Detail], radius: float, room: Placement) -> tuple[Detail, Placement]:
    x, y, w, h = room.box
    centre = (x + w / 2.0, y + h / 2.0)
    nearest = min(details, key=lambda d: round(math.dist(d.middle, centre)))
    detail = replace(nearest, radius_mm=radius)
    (ax, ay), (bx, by) = detail.middle, centre
    far = max(math.dist(detail.middle, centre), 1e-9)
    way = ((bx - ax) / far, (by - ay) / far)
    start = (ax + way[0] * detail.ring_mm, ay + way[1] * detail.ring_mm)
    end = (bx - way[0] * radius, by - way[1] * radius)
    return detail, Placement(room.request, room.box, (start, end))


def magnified(scene: Scene, detail: Detail) -> Scene:
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
    detail: Detail,
    circled: Placement,
    shift: Point,
    scene: Scene,
    lines: Sequence[Drawn],
    glue: Sequence[GlueArea],
    arrows: Sequence[PlacedArrow] = (),
) -> list[Item]:
    """The close-up as items, of the magnified scene with its lines and glue."""
    at = (detail.middle[0] * detail.times, detail.middle[1] * detail.times)
    disc = shapely.Point(at).buffer(detail.radius_mm, quad_segs=32)
    x, y, w, h = circled.box
    centre = (x + w / 2.0 + shift[0], y + h / 2.0 + shift[1])
    moved = (centre[0] - at[0], centre[1] - at[1])
    seen = cleaned(shapely.intersection(many(scene.seen), disc))
    found: list[Item] = list(face_fills(Scene(scene.items, tuple(seen)), moved))
    areas = cleaned(shapely.intersection(many(g.area for g in glue), disc))
    taking = [replace(g, area=a) for g, a in zip(glue, areas, strict=True) if not a.is_empty]
    found += glue_items(taking, moved)
    clipped = [replace(d, geometry=shapely.intersection(d.geometry, disc)) for d in lines]
    found += strokes([d for d in clipped if not d.geometry.is_empty], moved)
    found += arrow_items([larger_arrow(one, detail) for one in arrows], moved)
    found = [replace(item, id=f"close-up-{item.id}") for item in found]
    ring = (detail.middle[0] + shift[0], detail.middle[1] + shift[1])
    found.append(Stroke("leader", (circle(ring, detail.ring_mm),), "close-up-ring"))
    if circled.leader is not None:
        a, b = ((p[0] + shift[0], p[1] + shift[1]) for p in circled.leader)
        found.append(Stroke("leader", (Path((Line(a, b),), closed=False),), "close-up-line"))
    found.append(Stroke("outline", (circle(centre, detail.radius_mm),), "close-up"))
    return found
