"""The little picture of each sign, for the legend: drawn with what the diagrams are drawn with."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from itertools import pairwise

import shapely

from publisher.drawing.flat.scene import moved
from publisher.drawing.legend_tools import crease_sign, cut_sign, score_sign
from publisher.drawing.signs import SIGNS
from publisher.drawing.space_view.arrows import (
    ArrowKind,
    ArrowShape,
    arrow,
    repeated,
)
from publisher.drawing.space_view.by_hand import held_sign
from publisher.drawing.space_view.crosses import FreeArea, cross_items
from publisher.drawing.space_view.free_signs import FREE_SIGNS
from publisher.drawing.space_view.ink import area_paths
from publisher.drawing.space_view.turn_signs import turn_sign
from publisher.drawing.space_view.viewpoint import VIEWS
from publisher.drawing.types import Drawing, Fill, FillRole, Item, LineRole, Stroke
from publisher.geometry.path import Line, Path, Point, circle, polygon
from publisher.geometry.space import Vector

WIDTH_MM = 18.0
HEIGHT_MM = 8.0
_LEFT, _TOP, _RIGHT, _BOTTOM = 1.0, 1.0, 17.0, 7.0
_MIDDLE: Point = (WIDTH_MM / 2, HEIGHT_MM / 2)
_ARROW_SHARE = 0.74  # of its size in a picture, so that paper shows all round it


def draw_sign(key: str, stock: str = "") -> Drawing:
    """The sign ``key`` of ``signs.SIGNS``, 18 x 8 mm.

    ``stock`` is the name of the paper it is drawn on, "" for plain paper. Raises KeyError for
    a key that is not there.
    """
    items = _SIGN_ITEMS[key](stock)
    words = SIGNS[key]
    return Drawing(
        name=f"sign-{key}",
        width_mm=WIDTH_MM,
        height_mm=HEIGHT_MM,
        items=tuple(items),
        scale=1.0,
        signs=(key,),
        alt=f"Sign: {words}.",
    )


def _path(*points: Point) -> Path:
    lines = tuple(Line(a, b) for a, b in pairwise(points))
    return Path(lines, closed=False)


def _sheet(role: FillRole, stock: str) -> list[Item]:
    ring = polygon(((_LEFT, _TOP), (_RIGHT, _TOP), (_RIGHT, _BOTTOM), (_LEFT, _BOTTOM)))
    return [Fill(role, (ring,), stock), Stroke("outline", (ring,))]


def _face(role: FillRole, other: FillRole) -> Callable[[str], list[Item]]:
    """A sheet with a corner turned over, so that both faces show and one fills it."""

    def items(stock: str) -> list[Item]:
        corner = 3.2
        cut = (_RIGHT - corner, _BOTTOM)
        up = (_RIGHT, _BOTTOM - corner)
        sheet = polygon(((_LEFT, _TOP), (_RIGHT, _TOP), up, cut, (_LEFT, _BOTTOM)))
        turned = polygon((cut, (_RIGHT - corner, _BOTTOM - corner), up))
        return [
            Fill(role, (sheet,), stock),
            Fill(other, (turned,), stock),
            Stroke("inner", (turned,)),
            Stroke("outline", (sheet,)),
        ]

    return items


def _line(role: LineRole, gap_mm: float = 0.0) -> Callable[[str], list[Item]]:
    """A line across a strip of paper; a crease already made stops short of its edges."""

    def items(stock: str) -> list[Item]:
        y = _MIDDLE[1]
        return [
            *_sheet("front", stock),
            Stroke(role, (_path((_LEFT + gap_mm, y), (_RIGHT - gap_mm, y)),)),
        ]

    return items


def _free_line(role: LineRole) -> Callable[[str], list[Item]]:
    return lambda stock: [Stroke(role, (_path((_LEFT, _MIDDLE[1]), (_RIGHT, _MIDDLE[1])),))]


def _arrow_items(shape: ArrowShape, role: FillRole, at: Point = (0.0, 0.0)) -> list[Item]:
    items: list[Item] = [
        Fill("halo", area_paths(shape.halo)),
        Fill(role, area_paths(shape.ink)),
    ]
    return [moved(item, *at) for item in items]


def _small(shape: ArrowShape, share: float, about: Point = _MIDDLE) -> ArrowShape:
    ink, halo = (
        shapely.affinity.scale(area, share, share, origin=about) for area in (shape.ink, shape.halo)
    )
    return ArrowShape(ink, halo)


def _fold_arrow(
    kind: ArrowKind, line: LineRole, gap_mm: float = 0.0
) -> Callable[[str], list[Item]]:
    def items(stock: str) -> list[Item]:
        turn = [math.radians(a) for a in range(62, -63, -4)]
        x, y = _MIDDLE
        curve = [(x - 2.6 + 4.2 * math.cos(a), y + 3.2 * math.sin(a)) for a in turn]
        return [
            *_sheet("front", stock),
            Stroke(line, (_path((_LEFT + gap_mm, y), (_RIGHT - gap_mm, y)),)),
            *_arrow_items(_small(arrow(curve, kind), _ARROW_SHARE), "arrow-fold"),
        ]

    return items


def _curl_arrow(stock: str) -> list[Item]:
    """A sheet whose end comes up and over, without a line in it."""
    turn = [math.radians(a) for a in range(60, -151, -6)]
    curve = [(11.6 + 2.9 * math.cos(a), 4.1 + 2.6 * math.sin(a)) for a in turn]
    sheet = polygon(((_LEFT, 3.6), (14.0, 3.6), (12.2, _BOTTOM), (_LEFT - 0.4, _BOTTOM)))
    return [
        Fill("front", (sheet,), stock),
        Stroke("outline", (sheet,)),
        *_arrow_items(_small(arrow(curve, "valley"), _ARROW_SHARE), "arrow-fold"),
    ]


def _repeat(stock: str) -> list[Item]:
    path = [(2.0, _MIDDLE[1]), (16.0, _MIDDLE[1])]
    return _arrow_items(repeated(arrow(path, "valley"), path, 2), "arrow-fold")


def _repeat_behind(stock: str) -> list[Item]:
    """On a sheet, with the edge of paper behind it."""
    path = [(2.0, _MIDDLE[1]), (16.0, _MIDDLE[1])]
    edge = Stroke("hidden", (_path((_LEFT + 1.0, 6.1), (_RIGHT - 1.0, 6.1)),))
    drawn = _small(repeated(arrow(path, "valley"), path, 0, 1), _ARROW_SHARE)
    return [*_sheet("front", stock), edge, *_arrow_items(drawn, "arrow-fold")]


def _move_arrow(behind: float) -> Callable[[str], list[Item]]:
    way = [(2.0, _MIDDLE[1]), (16.0, _MIDDLE[1])]
    return lambda stock: _arrow_items(arrow(way, "move", behind), "arrow-move")


def _turn(axis: Vector, angle_deg: float) -> Callable[[str], list[Item]]:
    def items(stock: str) -> list[Item]:
        sign = turn_sign(axis, angle_deg, VIEWS[0])
        x0, top, x1, bottom = sign.bounds
        k = min(1.0, (HEIGHT_MM - 0.4) / (bottom - top))
        ends = tuple(_path((a[0] * k, a[1] * k), (b[0] * k, b[1] * k)) for a, b in sign.axis)
        at = (_MIDDLE[0] - (x0 + x1) / 2 * k, _MIDDLE[1] - (top + bottom) / 2 * k)
        return [
            moved(Stroke("fold-made", ends), *at),
            *_arrow_items(_small(sign.arrow, k, (0.0, 0.0)), "arrow-turn", at),
        ]

    return items


def _glue(role: FillRole, border: LineRole | None, hatch_deg: float) -> Callable[[str], list[Item]]:
    def items(stock: str) -> list[Item]:
        zone = polygon(((4.0, 2.2), (14.0, 2.2), (14.0, 5.8), (4.0, 5.8)))
        edge = [Stroke(border, (zone,))] if border else []
        return [*_sheet("front", stock), Fill(role, (zone,), stock, hatch_deg=hatch_deg), *edge]

    return items


def _moving(stock: str) -> list[Item]:
    """A part that moves beside one that does not."""
    x = _MIDDLE[0]
    ring = polygon(((x, _TOP), (_RIGHT, _TOP), (_RIGHT, _BOTTOM), (x, _BOTTOM)))
    return [
        *_sheet("front", stock),
        Fill("front-moving", (ring,), stock),
        Stroke("outline-moving", (ring,)),
    ]


def _ghost(stock: str) -> list[Item]:
    ring = polygon(((3.5, 1.6), (14.5, 1.6), (14.5, 6.4), (3.5, 6.4)))
    return [Stroke("ghost", (ring,))]


def _clear(stock: str) -> list[Item]:
    """A sheet that stands, drawn clear, before one that lies."""
    lying = polygon(((5.4, 2.6), (_RIGHT, 2.6), (13.0, _BOTTOM), (_LEFT, _BOTTOM)))
    standing = polygon(((_LEFT, _TOP), (13.0, _TOP), (13.0, _BOTTOM), (_LEFT, _BOTTOM)))
    paper: list[Item] = [Fill("front", (lying,), stock)]
    paper.append(Fill("front-clear", (standing,), stock, 0.5))
    return [*paper, Stroke("outline", (lying,)), Stroke("clear", (standing,))]


def _close_up(stock: str) -> list[Item]:
    """A strip with a small mark in a ring, and the mark again in a circle."""
    y = _MIDDLE[1]
    strip = polygon(((_LEFT, y - 0.9), (8.5, y - 0.9), (8.5, y + 0.9), (_LEFT, y + 0.9)))
    ring, large = (4.5, y), (13.7, y)
    return [
        Fill("front", (strip,), stock),
        Stroke("outline", (strip,)),
        Stroke("valley", (_path((4.5, y - 0.9), (4.5, y + 0.9)),)),
        Stroke("leader", (circle(ring, 1.6), _path((6.1, y), (10.5, y)))),
        Fill("front", (circle(large, 3.2),), stock),
        Stroke("valley", (_path((large[0], y - 3.2), (large[0], y + 3.2)),)),
        Stroke("outline", (circle(large, 3.2),)),
    ]


def _no_glue(through: bool) -> Callable[[str], list[Item]]:
    strip = FreeArea(shapely.box(_LEFT + 0.9, 3.0, _RIGHT - 0.9, 5.0), through)
    return lambda stock: [*_sheet("front", stock), *cross_items([strip], (0.0, 0.0))]


def _printed_down(stock: str) -> list[Item]:
    sheet, edge = _sheet("back", stock)
    assert isinstance(sheet, Fill)
    return [sheet, Fill("pattern-through", sheet.rings, stock), edge]


def _pads(stock: str) -> list[Item]:
    pads = [polygon(((x, 2.6), (x + 3.4, 2.6), (x + 3.4, 5.4), (x, 5.4))) for x in (3.6, 11.0)]
    return [
        *_sheet("front", stock),
        *(Fill("glue-through", (pad,), stock, hatch_deg=-45.0) for pad in pads),
        *(Stroke("inner", (pad,)) for pad in pads),
    ]


def _held(stock: str) -> list[Item]:
    return [*_sheet("front", stock), *held_sign(_MIDDLE)]


def _free(key: str) -> Callable[[str], list[Item]]:
    return lambda stock: list(FREE_SIGNS[key](_MIDDLE))


_SIGN_ITEMS: Mapping[str, Callable[[str], list[Item]]] = {
    "front": _face("front", "back"),
    "back": _face("back", "front"),
    "pattern-through": _printed_down,
    "moving": _moving,
    "cut": cut_sign,
    "score": score_sign,
    "crease": crease_sign,
    "slit": _line("slit", 3.0),
    "perforation": _line("perforation"),
    "engrave": _line("engrave", 2.0),
    "valley": _line("valley"),
    "mountain": _line("mountain"),
    "fold-made": _line("fold-made", 1.1),
    "fold-arrow-valley": _fold_arrow("valley", "valley"),
    "fold-arrow-mountain": _fold_arrow("mountain", "mountain"),
    "fold-arrow-unfold": _fold_arrow("unfold", "fold-made", 1.1),
    "repeat": _repeat,
    "repeat-behind": _repeat_behind,
    "curl-arrow": _curl_arrow,
    "move-arrow": _move_arrow(0.0),
    "push-arrow": _move_arrow(5.0),
    "turn-over": _turn((-1.0, 0.0, 0.0), 180.0),
    "turn-quarter": _turn((-1.0, 0.0, 0.0), 90.0),
    "turn-round": _turn((0.0, 0.0, 1.0), 180.0),
    "look-higher": _free("look-higher"),
    "look-lower": _free("look-lower"),
    "glue": _glue("glue", "glue-border", 45.0),
    "glue-through": _glue("glue-through", "hidden", -45.0),
    "glue-wet": _glue("glue-wet", None, 45.0),
    "no-glue": _no_glue(through=False),
    "no-glue-through": _no_glue(through=True),
    "tape": _glue("tape", "inner", 45.0),
    "tape-through": _glue("glue-through", "inner", -45.0),
    "pads": _pads,
    "colour": _glue("colour", None, 0.0),
    "hold": _held,
    "clock": _free("clock"),
    "ghost": _ghost,
    "hidden": _free_line("hidden"),
    "clear": _clear,
    "close-up": _close_up,
}
