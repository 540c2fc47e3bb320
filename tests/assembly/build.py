"""Small pieces and steps put together by hand for assembly's tests."""

from __future__ import annotations

import itertools
from collections.abc import Iterable
from typing import Literal

from msgspec.structs import replace

from publisher.diagnostics import Span
from publisher.geometry.path import Point, Region, polygon
from publisher.model.types import (
    Action,
    Bend,
    Face,
    Facet,
    Fold,
    GlueZone,
    Hinge,
    Panel,
    Pattern,
    Piece,
    Step,
    Target,
)
from tests.handmade import CARD, box_panel, sliding_box_pattern

HERE = Span("content/test/pattern.md", 0, 40, 1, 1)


def strip(
    name: str,
    widths: Iterable[float],
    height: float,
    bends: str = "",
    closing: float = 180.0,
    copies: int = 1,
) -> Piece:
    """Panels "a", "b", "c", ... side by side, each hung on the one at its left.

    ``bends`` has m or v for each fold; mountain where nothing is said.
    """
    x, panels = 0.0, []
    for i, width in enumerate(widths):
        panels.append(box_panel(chr(ord("a") + i), x, 0.0, x + width, height, HERE))
        x += width
    folds = []
    for i, (parent, child) in enumerate(itertools.pairwise(panels)):
        at = parent.bounds[2]
        bend: Bend = "valley" if bends[i : i + 1] == "v" else "mountain"
        ends: tuple[Point, Point] = ((at, 0.0), (at, height))
        folds.append(Fold(child.name, *ends, bend, closing, parent.name, child.name, HERE))
    outline = Region(polygon(((0.0, 0.0), (x, 0.0), (x, height), (0.0, height))))
    return piece_of(name, outline, panels, folds, copies=copies)


def piece_of(
    name: str,
    outline: Region,
    panels: list[Panel],
    folds: list[Fold],
    zones: tuple[GlueZone, ...] = (),
    copies: int = 1,
) -> Piece:
    return Piece(
        name=name,
        stock=CARD,
        copies=copies,
        outline=outline,
        panels=tuple(panels),
        folds=tuple(folds),
        scores=(),
        openings=(),
        glue_zones=zones,
        facets=tuple(Facet(p.name, p.name, Region(polygon(p.ring))) for p in panels),
        hinges=tuple(Hinge(f.name, f.parent, f.child, f.start, f.end) for f in folds),
        span=HERE,
    )


def sheet(name: str, width: float, height: float) -> Piece:
    """A plain rectangle whose one panel has the piece's name."""
    panel = box_panel(name, 0.0, 0.0, width, height, HERE)
    return piece_of(name, Region(polygon(panel.ring)), [panel], [])


def zone(
    piece: str, panel: str, box: tuple[float, float, float, float], face: Face, name: str
) -> GlueZone:
    x0, y0, x1, y1 = box
    ring = polygon(((x0, y0), (x1, y0), (x1, y1), (x0, y1)))
    return GlueZone(name, panel, Region(ring), face, HERE)


def part(
    piece: str, name: str = "", kind: Literal["piece", "panel", "fold", "glue", "edge"] = "piece"
) -> Target:
    return Target(kind if name else "piece", piece, part=name, span=HERE)


def folds(piece: str, *names: str) -> tuple[Target, ...]:
    return tuple(part(piece, name, "fold") for name in names)


def panels(piece: str, *names: str) -> tuple[Target, ...]:
    return tuple(part(piece, name, "panel") for name in names)


def do(
    verb: str,
    *subjects: Target,
    to: str = "",
    objects: tuple[Target, ...] = (),
    by: float | None = None,
    called: str = "",
    face: Face | None = None,
) -> Action:
    return Action(verb, subjects, to, objects, by, called, face, HERE)


def pattern(pieces: Iterable[Piece], *actions: Action) -> Pattern:
    """A pattern of these pieces and one step with these actions."""
    steps = (Step(1, "Make it", actions, HERE),) if actions else ()
    return replace(sliding_box_pattern(), name="test", pieces=tuple(pieces), steps=steps)


def tray(name: str, width: float, height: float, depth: float, bend: Bend = "mountain") -> Piece:
    """A base with four walls, each folded by 90 degrees; inside crease to crease."""
    x0, x1, y0, y1 = depth, depth + width, depth, depth + height
    across, down = width + 2 * depth, height + 2 * depth
    walls = (
        (box_panel("front wall", x0, y1, x1, down, HERE), (x1, y1), (x0, y1)),
        (box_panel("back wall", x0, 0.0, x1, y0, HERE), (x0, y0), (x1, y0)),
        (box_panel("left wall", 0.0, y0, x0, y1, HERE), (x0, y1), (x0, y0)),
        (box_panel("right wall", x1, y0, across, y1, HERE), (x1, y0), (x1, y1)),
    )
    base = box_panel("base", x0, y0, x1, y1, HERE)
    made = [Fold(p.name, a, b, bend, 90.0, "base", p.name, HERE) for p, a, b in walls]
    corners: list[Point] = [(x0, 0), (x1, 0), (x1, y0), (across, y0), (across, y1), (x1, y1)]
    corners += [(x1, down), (x0, down), (x0, y1), (0, y1), (0, y0), (x0, y0)]
    return piece_of(name, Region(polygon(corners)), [base, *(w[0] for w in walls)], made)
