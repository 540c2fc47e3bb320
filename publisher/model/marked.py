"""Corners that were cut, and lines on paper that are neither cut nor scored."""

from __future__ import annotations

from typing import Literal

from msgspec import Struct

from publisher.diagnostics import Span
from publisher.geometry.corners import CornerCut
from publisher.geometry.path import Line, Path, Point

WHOLE = ("letters", "artwork")
"""Shapes of many parts: what they measure, they measure all together."""


class Corner(Struct, frozen=True):
    """A corner that was cut; ``at`` is where it stood, ``size_mm`` the radius, or for a bevel how
    far along each side it begins."""

    cut: CornerCut
    size_mm: float
    at: Point
    panel: str | None
    span: Span


class Mark(Struct, frozen=True):
    """A line on the paper that is neither cut nor scored: drawn or engraved, or a
    cross by which sheets are laid on each other ("register"). ``shape`` is the author's word."""

    name: str
    kind: Literal["draw", "engrave", "register"]
    shape: str
    paths: tuple[Path, ...]
    panel: str | None
    width_mm: float
    height_mm: float
    span: Span

    @property
    def straight(self) -> tuple[Point, Point] | None:
        """The ends of a line that is one straight stretch; None of all else."""
        if len(self.paths) != 1 or len(self.paths[0].segments) != 1:
            return None
        segment = self.paths[0].segments[0]
        return (segment.start, segment.end) if isinstance(segment, Line) else None
