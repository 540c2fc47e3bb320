"""A piece as it is made: its lines, each of which may come to lie a little off.

A line is everything of a piece that one setting of the ruler makes: cuts and scores that lie
in line with each other.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from typing import Any, Literal, TypeVar

from msgspec import Struct
from msgspec.structs import replace

from publisher.diagnostics import Span
from publisher.geometry.path import Line, Point
from publisher.model.types import BandOf, MatOf, Pattern, Piece
from publisher.trade import Stock

T = TypeVar("T")
ON_LINE_MM = 1e-6
LEAST_SLANT = 0.05
"""Sine of the angle under which lines cross at the least, to count as crossing (3 degrees)."""
Shift = Callable[[Point], Point]


class MadeLine(Struct, frozen=True):
    """``normal`` is a unit vector across the line, ``at`` how far along it the line lies from
    the piece's origin. ``said`` names one of the things on it."""

    piece: str
    kind: Literal["score", "cut"]
    said: str
    normal: Point
    at: float

    def holds(self, p: Point) -> bool:
        return abs(p[0] * self.normal[0] + p[1] * self.normal[1] - self.at) <= ON_LINE_MM

    def shift(self, by_mm: float, others: tuple[MadeLine, ...] = ()) -> Shift:
        """Moves the points on the line, and no others. Where another line of the piece crosses
        it they go along that one, a score before a cut. Where two others cross, a cut that is
        off moves nothing: the folds that it ends stay where they are."""
        nx, ny = self.normal

        def move(p: Point) -> Point:
            if not self.holds(p):
                return p
            through = self._crossing(p, others)
            if len(through) > 1 and self.kind == "cut":
                return p
            for along, slant in through[:1]:
                step = by_mm / slant
                return (p[0] + step * along[0], p[1] + step * along[1])
            return (p[0] + by_mm * nx, p[1] + by_mm * ny)

        return move

    def _crossing(
        self, p: Point, others: tuple[MadeLine, ...]
    ) -> list[tuple[tuple[float, float], float]]:
        """Directions of the other lines through a point, and the sine of their angle to this
        one; parallels among them once."""
        found: list[tuple[tuple[float, float], float]] = []
        for line in others:
            along = (-line.normal[1], line.normal[0])
            slant = along[0] * self.normal[0] + along[1] * self.normal[1]
            if line is self or abs(slant) <= LEAST_SLANT or not line.holds(p):
                continue
            if all(abs(a[0] * along[1] - a[1] * along[0]) > LEAST_SLANT for a, _ in found):
                found.append((along, slant))
        return found


def made_lines(piece: Piece) -> tuple[MadeLine, ...]:
    """Scores first, then the straight cuts of the outline, each line once."""
    found: dict[tuple[float, float, float], MadeLine] = {}

    def add(kind: Literal["score", "cut"], said: str, a: Point, b: Point) -> None:
        length = math.dist(a, b)
        if length < 1e-6:
            return
        nx, ny = (b[1] - a[1]) / length, (a[0] - b[0]) / length
        if (nx, ny) < (0.0, 0.0):
            nx, ny = -nx, -ny
        at = a[0] * nx + a[1] * ny
        key = (round(nx, 6) + 0.0, round(ny, 6) + 0.0, round(at, 4) + 0.0)
        found.setdefault(key, MadeLine(piece.name, kind, said, (nx, ny), at))

    for fold in piece.folds:
        add("score", f"the score at {fold.name} of {piece.name}", fold.start, fold.end)
    for panel in piece.panels:
        whose = piece.name if len(piece.panels) == 1 else f"{panel.name} of {piece.name}"
        for edge in panel.edges:
            add("cut", f"the cut at {edge.name} of {whose}", edge.start, edge.end)
    for segment in piece.outline.outer.segments:
        if isinstance(segment, Line):
            add("cut", f"a cut of {piece.name}", segment.start, segment.end)
    return tuple(found.values())


def reshaped(piece: Piece, move: Shift) -> Piece:
    """The piece with every point of its geometry moved; what it is derived from stays."""
    kept = {"derived": piece.derived, "stock": piece.stock, "span": piece.span}
    new = {
        name: _moved(getattr(piece, name), move)
        for name in piece.__struct_fields__
        if name not in kept
    }
    return replace(piece, **new)


def _moved(node: Any, move: Shift) -> Any:
    if isinstance(node, tuple):
        if len(node) == 2 and isinstance(node[0], float) and isinstance(node[1], float):
            return move(node)  # the only pairs of floats in a piece's geometry are points
        return tuple(_moved(item, move) for item in node)
    if isinstance(node, Struct) and not isinstance(node, (Span, Stock, MatOf, BandOf)):
        return replace(
            node, **{name: _moved(getattr(node, name), move) for name in node.__struct_fields__}
        )
    return node


def with_pieces(pattern: Pattern, changed: Mapping[str, Piece]) -> Pattern:
    """The pattern with other pieces of the same names; sizes, steps and claims as they are."""
    return replace(pattern, pieces=tuple(changed.get(p.name, p) for p in pattern.pieces))
