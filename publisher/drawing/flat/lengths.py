"""The lengths that a flat drawing shows, as values.

Everything here is in model mm, in the piece's own coordinates.
"""

from __future__ import annotations

from typing import Literal, TypeAlias

from msgspec import Struct

from publisher.drawing.flat.board import Axis, Box
from publisher.geometry.path import Point
from publisher.units import kind_for, one

What: TypeAlias = Literal[
    "overall",
    "panel",
    "tab",
    "edge",
    "glue",
    "border",
    "notch",
    "window",
    "slit",
    "perforation",
    "island",
    "bridge",
    "radius",
    "corner",
    "mark",
    "place",
]

NEAR_MM = 1e-6


class Across(Struct, frozen=True):
    """A length along x or y, to be shown with a dimension line.

    Each of ``spots`` is a box (x_min, y_min, x_max, y_max) whose extent along ``axis`` is the
    length; one of them is shown.
    """

    what: What
    name: str
    axis: Axis
    mm: float
    spots: tuple[Box, ...]


class Anchor(Struct, frozen=True):
    """A point that a leader may lead to, and the direction in which it leaves."""

    at: Point
    towards: Point


class Pointed(Struct, frozen=True):
    """Lengths told beside a leader: each with the word that says what it is ("wide")."""

    what: What
    name: str
    lengths: tuple[tuple[float, str], ...]
    anchors: tuple[Anchor, ...]


Measure: TypeAlias = Across | Pointed


def printed(mm: float) -> str:
    """What makes two lengths the same to a maker: how they print in both units."""
    kind = kind_for(mm)
    return f"{one(mm, kind=kind, unit='mm')} {one(mm, kind=kind, unit='in')}"


def extent(box: Box, axis: Axis) -> tuple[float, float]:
    return (box[0], box[2]) if axis == "x" else (box[1], box[3])
