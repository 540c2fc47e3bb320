"""Corners that were cut, and lines on paper that are neither cut nor scored."""

from __future__ import annotations

from typing import Literal

from msgspec import Struct

from publisher.diagnostics import Span
from publisher.geometry.corners import CornerCut
from publisher.geometry.path import Path, Point

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
