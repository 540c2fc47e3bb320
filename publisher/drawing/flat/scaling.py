"""Scales of flat drawings, and paths brought to paper."""

from __future__ import annotations

from collections.abc import Callable

from msgspec import Struct

from publisher.geometry.path import Arc, Line, Path, Point

DENOMINATORS = (1.0, 2.0, 2.5, 3.0, 4.0, 5.0, 7.5, 10.0)


class Scale(Struct, frozen=True):
    """1 : ``denominator``, the model's ``origin`` coming to (0, 0)."""

    denominator: float
    origin: Point = (0.0, 0.0)

    @property
    def factor(self) -> float:
        return 1.0 / self.denominator

    @property
    def spoken(self) -> str:
        return f"1:{self.denominator:g}"

    def point(self, p: Point) -> Point:
        return ((p[0] - self.origin[0]) * self.factor, (p[1] - self.origin[1]) * self.factor)

    def path(self, path: Path) -> Path:
        return mapped(path, self.point)


def mapped(path: Path, place: Callable[[Point], Point]) -> Path:
    """The path with each point placed anew by a similarity that does not mirror."""
    return Path(
        tuple(
            Arc(place(s.start), place(s.end), place(s.centre), s.clockwise)
            if isinstance(s, Arc)
            else Line(place(s.start), place(s.end))
            for s in path.segments
        ),
        path.closed,
    )
