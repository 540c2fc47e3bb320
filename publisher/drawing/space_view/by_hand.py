"""What hands do to paper that moves nothing: coloured areas, a part held, a thing left to dry."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise

import shapely
import shapely.affinity
from msgspec import Struct
from shapely import Polygon
from shapely.geometry.base import BaseGeometry
from shapely.ops import polylabel

from publisher.assembly.types import Frame, Mark
from publisher.drawing.space_view.ink import all_paths, area_paths
from publisher.drawing.space_view.many import united
from publisher.drawing.space_view.placing import Request
from publisher.drawing.space_view.projected import Projected
from publisher.drawing.space_view.shapes import PieceShape, zone_papers
from publisher.drawing.space_view.visible import clean
from publisher.drawing.types import Fill, Item
from publisher.geometry.path import Point

HELD_MM = 2.1
CLOCK_MM = 3.4
"""Radii of the signs on paper, mm."""
AROUND_MM = 0.3
"""How far the halo of a sign reaches beyond it."""

_INSET_MM = 0.6  # so that the colour's dots keep off the edge
_LEAST_MM2 = 0.5
_QUARTERS = 16
_STRIP_TIMES = 3.0  # a strip is so many times as long as it is wide,
_APART_MM, _MOST_HELD = 20.0, 3  # and held about so far apart on paper,
_SLICE = 0.1  # within so much of each length


class ByHand(Struct, frozen=True):
    """An area on paper that is coloured or held, as it is seen; ``part`` is the panel that the
    line names, "" for a whole piece."""

    body: str
    what: str
    part: str
    area: BaseGeometry


def by_hand(
    frame: Frame,
    shapes: Mapping[str, PieceShape],
    items: Sequence[Projected],
    seen: Sequence[BaseGeometry],
) -> list[ByHand]:
    """The areas that this frame's action colours or holds, facet by facet; the strips of
    bent paper as one."""
    areas: dict[tuple[str, str, str, str], list[BaseGeometry]] = {}
    for mark in frame.motions:
        if not isinstance(mark, Mark) or mark.what not in ("colour", "hold"):
            continue
        for item, area in zip(items, seen, strict=True):
            actor = item.actor
            if item.ghost or item.plane is None or actor.body != mark.body:
                continue
            if mark.names and actor.piece.facet(actor.facet).panel not in mark.names:
                continue
            if mark.what == "colour" and item.face != mark.face:
                continue
            bent = any(fold.smooth for fold in actor.piece.folds)
            part = actor.piece.facet(actor.facet).panel if mark.names else ""
            key = (mark.body, mark.what, part, "" if bent else actor.facet)
            areas.setdefault(key, []).append(area)
    found = []
    for (body, what, part, _), own in areas.items():
        shown = clean(shapely.buffer(united(own), -_INSET_MM, join_style="mitre"))
        if what == "hold" and not part and shown.area <= _LEAST_MM2:
            shown = clean(united(own))  # a whole piece, small as it is
        if shown.area > _LEAST_MM2:
            found.append(ByHand(body, what, part, shown))
    shown_parts = {(one.body, one.part) for one in found}
    for mark in frame.motions:
        if isinstance(mark, Mark) and mark.what == "hold":
            hidden = [n for n in mark.names if (mark.body, n) not in shown_parts]
            found += _within(mark, hidden, shapes, items, seen)
    return found


def _within(
    mark: Mark,
    hidden: Sequence[str],
    shapes: Mapping[str, PieceShape],
    items: Sequence[Projected],
    seen: Sequence[BaseGeometry],
) -> Iterator[ByHand]:
    """What is held and lies within, a panel or where glue is: pressed where the paper over it is
    seen."""
    ours = [(i, area) for i, area in zip(items, seen, strict=True) if not i.ghost]
    own = [i for i, _ in ours if i.actor.body == mark.body]
    outside = united(area for _, area in ours)
    for name in hidden:
        parts = [i.area for i in own if i.actor.piece.facet(i.actor.facet).panel == name]
        for item in () if parts else own:
            shape = shapes[item.actor.piece.name]
            paper = shape.facets[item.actor.facet].paper
            for zone in zone_papers(
                shape.piece, (z for z in shape.piece.glue_zones if z.name == name)
            ):
                flat = shapely.intersection(zone, paper)
                if flat.area > _LEAST_MM2:
                    parts.append(clean(item.flat_to_paper(flat)))
        over = clean(shapely.intersection(united(parts), outside))
        if over.area > _LEAST_MM2:
            yield ByHand(mark.body, "hold", name, over)


def held_at(areas: Sequence[ByHand]) -> list[Point]:
    """Where the signs of what is held stand: in the middle of the largest area of each part, along
    a strip some, since it is held all along."""
    held: dict[tuple[str, str], list[Polygon]] = {}
    for one in areas:
        if one.what == "hold":
            parts = [p for p in shapely.get_parts(one.area) if isinstance(p, Polygon)]
            held.setdefault((one.body, one.part), []).extend(parts)
    largest = [max(own, key=lambda p: round(p.area, 3)) for own in held.values()]
    middles = [polylabel(part, 0.05) for area in largest for part in _along(area)]
    return [(middle.x, middle.y) for middle in middles]


def _along(area: Polygon) -> list[Polygon]:
    """A strip in equal lengths, one for each sign; anything else as it is."""
    corners = shapely.get_coordinates(shapely.minimum_rotated_rectangle(area))
    if len(corners) < 4:
        return [area]
    sides = sorted((corners[1:3] - corners[:2]).tolist(), key=lambda d: math.hypot(*d))
    (wide, long), (dx, dy) = (math.hypot(*d) for d in sides), sides[1]
    if long < _STRIP_TIMES * wide:
        return [area]
    count = min(_MOST_HELD, max(1, round(long / _APART_MM)))
    turn = -math.degrees(math.atan2(dy, dx))
    flat = shapely.affinity.rotate(area, turn, origin=(0.0, 0.0))
    x0, y0, x1, y1 = flat.bounds
    cuts = [x0 + (x1 - x0) * k / count for k in range(count + 1)]
    # a slice about the middle of each length: signs stand evenly, also where the depth is the same
    middles = [((a + b) / 2, _SLICE * (b - a) / 2) for a, b in pairwise(cuts)]
    slices = [shapely.intersection(flat, shapely.box(m - h, y0, m + h, y1)) for m, h in middles]
    parts = [[p for p in shapely.get_parts(one) if isinstance(p, Polygon)] for one in slices]
    found = [max(own, key=lambda p: round(p.area, 3)) for own in parts if own]
    return [shapely.affinity.rotate(p, -turn, origin=(0.0, 0.0)) for p in found] or [area]


def hand_items(areas: Sequence[ByHand], shift: Point) -> Iterator[Item]:
    """Colour in dots, and the signs of what is held."""
    coloured = [a for a in areas if a.what == "colour"]
    for one, rings in zip(coloured, all_paths([a.area for a in coloured], shift), strict=True):
        yield Fill("colour", rings, id=f"colour-{one.body}", hatch_deg=0.0)
    for x, y in held_at(areas):
        yield from held_sign((x + shift[0], y + shift[1]))


def clock_request(frame: Frame) -> list[Request]:
    """Room for the sign of what is left to dry."""
    if any(isinstance(m, Mark) and m.what == "dry" for m in frame.motions):
        return [Request("clock", None, 2 * CLOCK_MM, 2 * CLOCK_MM)]
    return []


def held_sign(at: Point) -> Iterator[Item]:
    """A fingertip's dot in a ring."""
    whole = _disc(at, HELD_MM)
    yield Fill("halo", area_paths(shapely.buffer(whole, AROUND_MM)), id="halo-hold")
    ring = shapely.difference(whole, _disc(at, HELD_MM - 0.45))
    dot = _disc(at, HELD_MM * 0.45)
    yield Fill("sign", area_paths(shapely.union_all([ring, dot])), id="hold")


def clock_sign(middle: Point) -> Iterator[Item]:
    """A clock's face with two hands."""
    ring = shapely.difference(_disc(middle, CLOCK_MM), _disc(middle, CLOCK_MM - 0.5))
    hands = [_hand(middle, length, turn) for length, turn in ((2.3, 0.0), (1.6, 100.0))]
    ticks = [_tick(middle, 90.0 * k) for k in range(4)]
    face = shapely.union_all([ring, *hands, *ticks])
    yield Fill("arrow-turn", area_paths(face), id="clock")


def _disc(at: Point, radius_mm: float) -> BaseGeometry:
    return shapely.buffer(shapely.Point(at), radius_mm, quad_segs=_QUARTERS)


def _hand(at: Point, length_mm: float, turn_deg: float) -> BaseGeometry:
    turn = math.radians(turn_deg)
    tip = (at[0] + length_mm * math.sin(turn), at[1] - length_mm * math.cos(turn))
    return shapely.buffer(shapely.LineString((at, tip)), 0.28, quad_segs=4)


def _tick(at: Point, turn_deg: float) -> BaseGeometry:
    turn = math.radians(turn_deg)
    x, y = math.sin(turn), math.cos(turn)
    near, far = CLOCK_MM - 1.0, CLOCK_MM - 0.3
    line = ((at[0] + near * x, at[1] - near * y), (at[0] + far * x, at[1] - far * y))
    return shapely.buffer(shapely.LineString(line), 0.2, quad_segs=4)
