"""The values of printed pieces."""

from __future__ import annotations

from msgspec import Struct

from publisher.layout.types import Sheet
from publisher.model.types import Face
from publisher.templates.canvas import Image


class Artwork(Struct, frozen=True):
    """A picture for one face of a piece, by the name of its file."""

    file: str
    piece: str
    face: Face
    image: Image


class Fill(Struct, frozen=True):
    """What a patterned paper looks like: a ground with rows of dots, colours as #rrggbb."""

    ground: str
    dots: str
    spacing_mm: float
    radius_mm: float


class PrintedSheets(Struct, frozen=True):
    """Printed pieces on sheets of one printer's paper. ``too_large`` are those that it cannot
    hold with their bleed."""

    paper: str
    sheets: tuple[Sheet, ...]
    too_large: tuple[str, ...]
