"""Every measure that prose may speak of: what kind, of what, and how much.

The kinds are the words that a maker reads ("border", "overlap", "wide"); ``WORDS`` says which
words in a sentence mean which kind.
"""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import Struct

from publisher.checks.borders import CHORD_MM, borders
from publisher.checks.context import Context
from publisher.checks.interior import overlaps
from publisher.checks.rules.glue_zones import width_mm
from publisher.geometry.shapely_bridge import to_shapely
from publisher.model.types import BandOf, Panel, Piece

WORDS: dict[str, tuple[str, ...]] = {
    "border": (
        "border",
        "borders",
        "margin",
        "all round",
        "all around",
        "on every side",
        "on all sides",
        "frame",
        "ring",
    ),
    "overlap": ("overlap", "overlaps", "overlapping", "lap"),
    "wide": ("wide", "width", "broad"),
    "high": ("high", "tall", "height"),
    "long": ("long", "length"),
    "deep": ("deep", "depth"),
    "radius": ("radius",),
    "across": ("across", "diameter"),
    "thick": ("thick", "thickness"),
    "glue": ("glue", "tape", "adhesive", "strip"),
    "score": ("score", "scored", "scores", "fold line", "crease"),
}


class Measure(Struct, frozen=True):
    """``kind`` is a key of ``WORDS`` or a size's name; ``of`` are names that it belongs to."""

    kind: str
    of: tuple[str, ...]
    mm: float


def measures(context: Context) -> tuple[Measure, ...]:
    """All of them, in the order of the pattern."""
    found: list[Measure] = []
    for size in context.pattern.sizes:
        if size.unit == "mm":
            found += [Measure(size.name, (), v) for v in size.values]
    for piece in context.pattern.pieces:
        found += _of_piece(piece)
    for border in borders(context.pattern, context.story.end):
        of = (border.layer, border.piece, border.panel)
        found += [Measure("border", of, v) for v in border.values_mm]
    return tuple(found)


def _box(of: tuple[str, ...], panel: Panel) -> Iterator[Measure]:
    yield Measure("wide", of, panel.width_mm)
    yield Measure("high", of, panel.height_mm)
    yield Measure("deep", of, panel.height_mm)
    yield Measure("long", of, max(panel.width_mm, panel.height_mm))
    if panel.kind == "tab":
        yield Measure("deep", of, panel.width_mm)
        yield Measure("wide", of, min(panel.width_mm, panel.height_mm))


def _of_piece(piece: Piece) -> Iterator[Measure]:
    x0, y0, x1, y1 = piece.bounds
    of = (piece.name,)
    yield Measure("wide", of, x1 - x0)
    yield Measure("high", of, y1 - y0)
    yield Measure("long", of, max(x1 - x0, y1 - y0))
    yield Measure("thick", of, piece.stock.caliper_mm)
    for panel in piece.panels:
        yield from _box((panel.name, piece.name), panel)
    for opening in piece.openings:
        names = (opening.name, opening.kind, piece.name)
        yield Measure("wide", names, opening.width_mm)
        yield Measure("across", names, opening.width_mm)
        yield Measure("deep", names, opening.depth_mm)
        if opening.shape in ("half round", "circle"):
            yield Measure("radius", names, opening.width_mm / 2)
    for zone in piece.glue_zones:
        width = width_mm(to_shapely(zone.region, CHORD_MM))
        yield Measure("glue", (zone.name, piece.name), width)
        yield Measure("wide", (zone.name, "glue", piece.name), width)
    for fold in piece.folds:
        if abs(fold.start[0] - fold.end[0]) < 1e-6:
            yield Measure("score", of, fold.start[0] - x0)
            yield Measure("score", of, x1 - fold.start[0])
        elif abs(fold.start[1] - fold.end[1]) < 1e-6:
            yield Measure("score", of, fold.start[1] - y0)
            yield Measure("score", of, y1 - fold.start[1])
    for overlap in overlaps(piece):
        yield Measure("overlap", (piece.name, overlap.first, overlap.second), overlap.mm)
    if isinstance(piece.derived, BandOf):
        yield Measure("overlap", (piece.name, piece.derived.piece), piece.derived.overlap_mm)
        yield Measure("long", (piece.name, "loop"), piece.derived.loop_mm)
