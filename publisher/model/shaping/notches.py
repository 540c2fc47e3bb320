"""Notches: shapes open to an edge, with exact arcs."""

from __future__ import annotations

from typing import Literal

from msgspec import Struct

from publisher.geometry.path import Arc, Line, Path, Point, Region, Segment
from publisher.geometry.segments import is_on, reversed_segment
from publisher.model.shaping.panels import shifted

NotchShape = Literal["half round", "square", "vee"]
NOTCH_SHAPES: tuple[NotchShape, ...] = ("half round", "square", "vee")

_NEAR_MM = 1e-6


class Notch(Struct, frozen=True):
    """``cut`` runs from one end of the mouth to the other as a clockwise outline walks it."""

    cut: tuple[Segment, ...]

    @property
    def mouth(self) -> tuple[Point, Point]:
        return self.cut[0].start, self.cut[-1].end

    @property
    def ring(self) -> Path:
        """What is taken away, clockwise."""
        back = tuple(reversed_segment(s) for s in reversed(self.cut))
        start, end = self.mouth
        return Path((*back, Line(start, end)), closed=True)


def notch_at(point: Point, along: Point, shape: NotchShape, width: float, depth: float) -> Notch:
    """A notch whose mouth has its middle at ``point`` on an edge walked in direction ``along``.

    A half round deeper than half its width goes straight in first; a shallower one is a flat
    arc with ``depth`` as its rise (radius from chord and rise, r = (w^2 / 4 + d^2) / 2d).
    """
    inward = (-along[1], along[0])
    first = shifted(point, (along, -width / 2.0))
    last = shifted(point, (along, width / 2.0))
    if shape == "square":
        a, b = shifted(first, (inward, depth)), shifted(last, (inward, depth))
        return Notch((Line(first, a), Line(a, b), Line(b, last)))
    if shape == "vee":
        tip = shifted(point, (inward, depth))
        return Notch((Line(first, tip), Line(tip, last)))
    straight = depth - width / 2.0
    if straight > _NEAR_MM:
        a, b = shifted(first, (inward, straight)), shifted(last, (inward, straight))
        centre = shifted(point, (inward, straight))
        return Notch((Line(first, a), Arc(a, b, centre, False), Line(b, last)))
    if straight > -_NEAR_MM:
        return Notch((Arc(first, last, point, False),))
    radius = (width * width / 4.0 + depth * depth) / (2.0 * depth)
    centre = shifted(point, (inward, depth - radius))
    return Notch((Arc(first, last, centre, False),))


def mouth_is_free(outline: Region, notch: Notch) -> bool:
    """Whether the whole mouth lies on the outer edge of the paper, on one straight run."""
    return any(
        isinstance(s, Line) and all(is_on(s, p, _NEAR_MM) for p in notch.mouth)
        for s in outline.outer.segments
    )
