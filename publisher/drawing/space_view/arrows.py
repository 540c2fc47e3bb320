"""The shapes of arrows, as areas with body.

A valley fold's arrow has an unbroken body and a solid head. A mountain fold's arrow has dots
at its tail, as a mountain line has, and a hollow head. That of a fold that opens again is an
outline, body and head. A move arrow is broad, with a blunt
tail and a solid head; that of a push has a tail of dots, for it comes from behind the paper.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Literal, TypeAlias

import numpy as np
import shapely
from msgspec import Struct
from shapely import MultiPolygon, Polygon
from shapely.geometry.base import BaseGeometry

from publisher.drawing.space_view.camera import Array
from publisher.geometry.path import Point

ArrowKind: TypeAlias = Literal["valley", "mountain", "unfold", "move"]

HALO_MM = 0.45
SHORTEST_MM = 6.0
HEAD_MM = (3.0, 3.6)  # length of the head, least and most: read at arm's length
BODY_MM = 1.1  # width of the body at the head
_BROAD = {"move": 1.24, "unfold": 1.6}  # bodies as broad as that many others
_TAIL = {"move": 0.9, "unfold": 0.8}  # thickness of the tail, as a part of the neck's
_OUTLINE_MM = 0.32  # of an arrow that is an outline
_DOT_MM, _STEP_MM = 0.8, 1.5  # of what lies behind paper
_BAR_MM, _BAR_THICK_MM, _BAR_STEP_MM = 2.8, 0.5, 1.1  # across the arrow of what is repeated
_DOTTED = ((-2.5, -1.8), (-1.4, -0.7), (0.7, 1.4), (1.8, 2.5))  # beside the body of the arrow
_BEND_DEG = 3.0  # between two points of a bent arrow: 40 mm of a quarter turn keep to 0.02 mm


class ArrowShape(Struct, frozen=True):
    """The inked area and the halo under it, in paper mm."""

    ink: BaseGeometry
    halo: BaseGeometry


def distances(line: Array) -> Array:
    """How far along a line (n, 2) each of its points lies."""
    steps = line[1:] - line[:-1]
    far = np.zeros(len(line))
    np.hypot(steps[:, 0], steps[:, 1]).cumsum(out=far[1:])
    return far


def _bent(line: Array) -> float:
    """By how many degrees a line turns along its way."""
    steps = np.diff(line, axis=0)
    turn = np.diff(np.arctan2(steps[:, 1], steps[:, 0]))
    return float(np.degrees(np.abs((turn + np.pi) % (2.0 * np.pi) - np.pi)).sum())


def _at(along: Array | float, far: Array, line: Array) -> Array:
    """The points (n, 2) of a line so far along it; ``far`` are the distances of its own."""
    found = np.empty((np.size(along), 2))
    found[:, 0] = np.interp(along, far, line[:, 0])
    found[:, 1] = np.interp(along, far, line[:, 1])
    return found


def resampled(line: Array, count: int) -> Array:
    """``count`` points evenly along a line (n, 2)."""
    far = distances(line)
    along = np.linspace(0.0, far[-1], count)
    return _at(along, far, line)


def lengthened(line: Array, shortest_mm: float = SHORTEST_MM) -> Array:
    """The same line, grown about its middle where it is too short to carry a head."""
    far = distances(line)
    if far[-1] >= shortest_mm or far[-1] <= 1e-9:
        return line
    middle = np.array([np.interp(far[-1] / 2.0, far, line[:, k]) for k in (0, 1)])
    return np.asarray(middle + (line - middle) * (shortest_mm / far[-1]))


def _sides(points: Array, widths: Array) -> tuple[Array, Array]:
    steps = points[1:] - points[:-1]
    steps = np.concatenate((steps[:1], steps[:-1] + steps[1:], steps[-1:]))
    lengths = np.hypot(steps[:, 0], steps[:, 1])
    lengths[lengths == 0] = 1.0
    sides = np.empty_like(steps)
    np.multiply(-steps[:, 1], widths / lengths, out=sides[:, 0])
    np.multiply(steps[:, 0], widths / lengths, out=sides[:, 1])
    return points + sides, points - sides


def _ribbon(points: Array, widths: Array) -> BaseGeometry:
    """A band along points with half-widths; where it bends hard the parts are joined."""
    left, right = _sides(points, widths)
    whole = Polygon(np.concatenate((left, right[::-1])))
    if whole.is_valid:
        return whole
    quads = shapely.polygons(np.stack((left[:-1], left[1:], right[1:], right[:-1]), axis=1))
    return shapely.union_all(shapely.buffer(quads, 1e-4, join_style="mitre"))


def arrow(points: Sequence[Point], kind: ArrowKind, behind: float = 0.0) -> ArrowShape:
    """An arrow along points in paper mm, from tail to tip. Dots take the place of its first
    stretch where that lies ``behind`` paper, so many mm."""
    line = lengthened(np.array(points))
    length = float(distances(line)[-1])
    head = min(max(length * 0.28, HEAD_MM[0]), HEAD_MM[1])
    half_head = head * 0.54
    thick = BODY_MM * _BROAD.get(kind, 1.0) / 2.0
    count = 2 + math.ceil(_bent(line) / _BEND_DEG)
    path = resampled(line, count)
    travelled = np.linspace(0.0, length, count)
    neck = length - head * 0.80
    thin = _TAIL.get(kind, 0.55)

    def stretch(start: float, end: float) -> tuple[Array, Array]:
        inside = travelled[(travelled > start) & (travelled < end)]
        along = np.concatenate(([start], inside, [end]))
        body = _at(along, travelled, path)
        return body, np.interp(along, (0.0, neck), (thin * thick, thick))

    outer = _head(path, travelled, length, head, half_head)
    whole = _with_head(*stretch(0.0, neck), outer, round_tail=True)
    ink: BaseGeometry = whole
    if kind == "mountain":
        # dot, dot, and the rest unbroken
        dot = min(max(0.55, 0.05 * length), 0.9)
        step = dot * 1.8
        dots = [_ribbon(*stretch(k * step, k * step + dot)) for k in range(2)]
        rest = _with_head(*stretch(2 * step, neck), outer, round_tail=False)
        hollow = shapely.buffer(outer, -min(0.36, head * 0.14), join_style="mitre")
        parts = [part for dot in dots for part in shapely.get_parts(dot)]
        ink = MultiPolygon([*parts, Polygon(rest.exterior, [hollow.exterior])])
        if not ink.is_valid:  # a short arrow that bends hard runs into its own head
            ink = shapely.union_all([*dots, shapely.difference(rest, hollow)])
    elif kind == "unfold":
        inner = shapely.buffer(whole, -_OUTLINE_MM, join_style="mitre")
        ink = shapely.difference(whole, inner)
    elif behind > 0.0:
        dots = [
            _ribbon(*stretch(at, at + _DOT_MM)) for at in np.arange(0.0, behind - _DOT_MM, _STEP_MM)
        ]
        rest = _with_head(*stretch(behind, neck), outer, round_tail=False)
        ink = MultiPolygon([part for one in (*dots, rest) for part in shapely.get_parts(one)])
    return ArrowShape(ink, shapely.buffer(whole, HALO_MM, quad_segs=4))


def repeated(
    shape: ArrowShape, points: Sequence[Point], times: int, far_side: int = 0
) -> ArrowShape:
    """An arrow with a bar across it for every time more that the same is done, and one of dots for
    every time on the far side, behind paper."""
    line = lengthened(np.array(points))
    far = distances(line)
    bars = []
    count = times + far_side
    body = float(far[-1]) - HEAD_MM[0] - _BAR_STEP_MM
    step = min(_BAR_STEP_MM, body / count)
    for k in range(count):
        at = float(far[-1]) * 0.42 + (k - (count - 1) / 2.0) * step
        at += max(0.0, (count - 1) / 2.0 * step + _BAR_THICK_MM - float(far[-1]) * 0.42)
        ends = _at(np.array([at - 0.05, at + 0.05]), far, line)
        (dx, dy), (x, y) = (ends[1] - ends[0]) / np.hypot(*(ends[1] - ends[0])), ends.mean(axis=0)
        runs = [(-_BAR_MM / 2.0, _BAR_MM / 2.0)] if k < times else _DOTTED
        for low, high in runs:
            bar = shapely.LineString([(x - dy * t, y + dx * t) for t in (low, high)])
            bars.append(shapely.buffer(bar, _BAR_THICK_MM / 2.0, cap_style="flat"))
    halo = shapely.buffer(shapely.union_all(bars), HALO_MM, quad_segs=4)
    return ArrowShape(shapely.union_all([shape.ink, *bars]), shapely.union_all([shape.halo, halo]))


def _with_head(points: Array, widths: Array, head: Polygon, round_tail: bool) -> Polygon:
    """A band and the head at its end, as one outline."""
    left, right = _sides(points, widths)
    tip, base_left, _, base_right = shapely.get_coordinates(head)[:4]
    ends = [left, np.array([base_left, tip, base_right]), right[::-1]]
    if round_tail:
        back, radius = points[0] - points[1], float(widths[0])
        behind = math.atan2(back[1], back[0])
        turn = behind + np.radians(np.linspace(75.0, -75.0, 7))
        ends.append(points[0] + radius * np.column_stack((np.cos(turn), np.sin(turn))))
    whole = Polygon(np.concatenate(ends))
    if whole.is_valid:
        return whole
    parts = [_ribbon(points, widths), head]
    if round_tail:
        parts.append(shapely.Point(points[0]).buffer(float(widths[0])))
    joined = shapely.union_all(parts)
    largest: Polygon = max(shapely.get_parts(joined), key=lambda part: float(part.area))
    return largest


def _head(path: Array, travelled: Array, length: float, head: float, half: float) -> Polygon:
    tip = path[-1]
    root = _at(length - head, travelled, path)[0]
    forward = tip - root
    forward = forward / max(float(np.hypot(*forward)), 1e-9)
    side = np.array([-forward[1], forward[0]])
    base = tip - forward * head
    notch = tip - forward * head * 0.80
    return Polygon([tip, base + side * half, notch, base - side * half])
