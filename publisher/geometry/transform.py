"""Moving, turning and mirroring flat shapes. Arcs stay arcs."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import TypeVar

from publisher.geometry.path import Arc, Line, Path, Point, Region
from publisher.geometry.segments import reversed_path

Shape = TypeVar("Shape", Path, Region)


def _mapped_path(path: Path, place: Callable[[Point], Point], flips: bool) -> Path:
    return Path(
        tuple(
            Arc(place(s.start), place(s.end), place(s.centre), s.clockwise != flips)
            if isinstance(s, Arc)
            else Line(place(s.start), place(s.end))
            for s in path.segments
        ),
        path.closed,
    )


def _mapped(shape: Shape, place: Callable[[Point], Point], flips: bool = False) -> Shape:
    if isinstance(shape, Path):
        return _mapped_path(shape, place, flips)
    outer = _mapped_path(shape.outer, place, flips)
    holes = tuple(_mapped_path(h, place, flips) for h in shape.holes)
    if flips:
        return Region(reversed_path(outer), tuple(reversed_path(h) for h in holes))
    return Region(outer, holes)


def translated(shape: Shape, dx_mm: float, dy_mm: float) -> Shape:
    """The shape moved to the right by ``dx_mm`` and down by ``dy_mm``."""
    return _mapped(shape, lambda p: (p[0] + dx_mm, p[1] + dy_mm))


def rounded(shape: Shape, places: int = 9) -> Shape:
    """The shape with its points at so many decimal places of a mm: two that were moved to one
    place on different ways become the same."""
    return _mapped(shape, lambda p: (round(p[0], places), round(p[1], places)))


def _cosine_sine(turn_deg: float) -> tuple[float, float]:
    quarter, rest = divmod(turn_deg % 360.0, 90.0)
    if rest == 0.0:
        return ((1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0))[int(quarter) % 4]
    angle = math.radians(turn_deg)
    return math.cos(angle), math.sin(angle)


def rotated_point(point: Point, turn_deg: float, about: Point = (0.0, 0.0)) -> Point:
    """The point turned clockwise as seen about ``about``; quarter turns are exact."""
    c, s = _cosine_sine(turn_deg)
    x, y = point[0] - about[0], point[1] - about[1]
    return (about[0] + c * x - s * y, about[1] + s * x + c * y)


def rotated(shape: Shape, turn_deg: float, about: Point = (0.0, 0.0)) -> Shape:
    """The shape turned clockwise as seen about ``about``; quarter turns are exact."""
    return _mapped(shape, lambda p: rotated_point(p, turn_deg, about))


def mirrored(shape: Shape, at: Point = (0.0, 0.0), along: Point = (0.0, 1.0)) -> Shape:
    """The shape mirrored in the line through ``at`` in the direction ``along``.

    The default swaps left and right about the y axis. A region's rings keep their senses; a
    path is walked in the same order, so that a clockwise ring becomes counter-clockwise.
    """
    length = math.hypot(*along)
    ux, uy = along[0] / length, along[1] / length

    def place(p: Point) -> Point:
        x, y = p[0] - at[0], p[1] - at[1]
        dot = x * ux + y * uy
        return (at[0] + 2.0 * dot * ux - x, at[1] + 2.0 * dot * uy - y)

    return _mapped(shape, place, flips=True)
