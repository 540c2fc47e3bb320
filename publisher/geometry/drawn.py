"""Outlines as a pen draws them, with straight lines and Bezier curves, as arcs and lines."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Literal, TypeAlias

from publisher.geometry.curves import cubic_arcs, quadratic_arcs
from publisher.geometry.path import Line, Path, Point, Segment

Command: TypeAlias = tuple[
    Literal["move", "line", "quadratic", "cubic", "close"], tuple[Point, ...]
]
"""What the pen does, and the points it does it with; a curve's last point is its end."""


def rings_of(commands: Sequence[Command], place: Callable[[Point], Point]) -> list[Path]:
    """Closed rings of arcs and lines, every point put where ``place`` says."""
    rings: list[Path] = []
    segments: list[Segment] = []
    start: Point | None = None
    at: Point = (0.0, 0.0)
    for kind, raw in (*commands, ("move", ((0.0, 0.0),))):
        points = [place(p) for p in raw]
        if kind in ("move", "close"):
            if start is not None and at != start:
                segments += _straight(at, start)
            if start is not None and len(segments) > 1:
                rings.append(Path(tuple(segments), closed=True))
            segments = []
            at = points[0] if points else start or at
            start = at
            continue
        segments += segments_of(kind, at, points)
        at = points[-1]
    return rings


def segments_of(kind: str, at: Point, points: Sequence[Point]) -> list[Segment]:
    """A line or a curve of a font or a drawing from ``at`` on."""
    if kind == "line":
        return _straight(at, points[0])
    if kind == "quadratic":
        control, end = points
        return quadratic_arcs(at, control, end)
    first, second, end = points
    return cubic_arcs((at, first, second, end))


def _straight(start: Point, end: Point) -> list[Segment]:
    return [] if start == end else [Line(start, end)]
