"""Templates written for tests, and patterns that try them: a large piece, many small ones."""

from __future__ import annotations

from functools import cache

from msgspec.structs import replace

from publisher.geometry.path import Line as Straight
from publisher.geometry.path import Path, Region, polygon
from publisher.layout import Sheet
from publisher.model.types import GlueZone, Pattern, Piece, Score
from publisher.templates import write_templates
from tests.handmade import BOX_FILE, CARD, at, sliding_box_pattern
from tests.sheets import laid, trade


def plain(name: str, width_mm: float, height_mm: float, copies: int = 1) -> Piece:
    """A rectangle of card with nothing on it."""
    base = sliding_box_pattern().pieces[2]
    ring = polygon([(0.0, 0.0), (width_mm, 0.0), (width_mm, height_mm), (0.0, height_mm)])
    return replace(
        base,
        name=name,
        stock=CARD,
        copies=copies,
        outline=Region(ring),
        panels=(),
        scores=(),
        openings=(),
        facets=(),
        hinges=(),
        derived=None,
    )


def corner_piece() -> Piece:
    """An L of 330 x 380 with its right lower quarter missing, a score across and a glue zone:
    of the four parts that A4 needs, the last has no paper in it."""
    span = at(BOX_FILE, 90)
    points = [
        (0.0, 0.0),
        (330.0, 0.0),
        (330.0, 150.0),
        (140.0, 150.0),
        (140.0, 380.0),
        (0.0, 380.0),
    ]
    score = Path((Straight((0.0, 150.0), (140.0, 150.0)),), False)
    zone = polygon([(0.0, 360.0), (140.0, 360.0), (140.0, 380.0), (0.0, 380.0)])
    return replace(
        plain("corner", 330.0, 380.0),
        outline=Region(polygon(points)),
        scores=(Score("bend", score, "valley", None, span),),
        glue_zones=(GlueZone("foot", None, Region(zone), "back", span),),
    )


def of(*pieces: Piece, name: str = "trial") -> Pattern:
    """A pattern of these pieces and no steps."""
    return replace(sliding_box_pattern(), name=name, pieces=pieces, steps=(), claims=())


def written(pattern: Pattern, sheets: tuple[Sheet, ...] = ()) -> dict[str, bytes]:
    """Both papers."""
    return write_templates(pattern, sheets, trade())


@cache
def box_written() -> dict[str, bytes]:
    return written(*laid(sliding_box_pattern()))
