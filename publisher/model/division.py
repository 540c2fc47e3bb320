"""Where a piece may be cut in two and glued together again, should it go on no sheet."""

from __future__ import annotations

from msgspec import Struct

from publisher.diagnostics import Span
from publisher.geometry.path import Point


class Division(Struct, frozen=True):
    """A straight line through the whole piece. The part above it, or left of it where it runs
    straight down, keeps a tab ``tab_mm`` wide beyond it, and the other part is glued on that."""

    start: Point
    end: Point
    tab_mm: float
    span: Span
