"""``outline rectangle, 60 x 40 mm``, ``outline polygon, 6 sides, 40 mm across``: one shape."""

from __future__ import annotations

from publisher.diagnostics import Span
from publisher.geometry.measure import path_bounds
from publisher.geometry.path import Point
from publisher.geometry.transform import translated
from publisher.model.bench import Bench
from publisher.model.findings import refuse
from publisher.model.shaping.panels import along_and_out, panel_of, rectangle, side_exactly
from publisher.model.statements.kinds import Phase, StatementKind
from publisher.model.statements.phrases import Phrases
from publisher.model.statements.shape import straight_corners
from publisher.model.statements.shapes import read_shape
from publisher.model.types import Edge, Panel

_EXAMPLE = "outline rectangle, 60 x 40 mm"


def run(bench: Bench, phrases: Phrases) -> None:
    draft = bench.draft
    if draft.panels:
        first = next(iter(draft.panels.values()))
        raise refuse(
            "two-outlines",
            f"{draft.name} already has paper, from line {first.span.line}",
            phrases.statement.head_span,
            notes=("A piece is one outline, or a chain of panels, or grown from one panel",),
        )
    shape = read_shape(bench, phrases, _EXAMPLE)
    if shape.more:
        raise refuse(
            "paper-falls-apart",
            f"a piece is one shape, and this is {1 + len(shape.more)}",
            phrases.span,
            numbers=(("shapes", 1.0 + len(shape.more)),),
        )
    x, y, right, bottom = path_bounds(shape.region.outer)
    region = translated(shape.region, -x, -y)
    corners = straight_corners(region)
    if corners is not None:
        draft.panels[draft.name] = polygon_panel(draft.name, corners, phrases.span)
        return
    width, height = right - x, bottom - y
    draft.panels[draft.name] = rectangle(draft.name, 0.0, 0.0, width, height, phrases.span)
    draft.shaped[draft.name] = region


def polygon_panel(name: str, corners: tuple[Point, ...], span: Span) -> Panel:
    """A panel with straight edges. An edge that alone looks straight up, down, left or right is
    called by that side; all others are ``edge 1``, ``edge 2``, ... clockwise from the top."""
    first = min(range(len(corners)), key=lambda i: (round(corners[i][1], 6), corners[i][0]))
    ring = (*corners[first:], *corners[:first])
    edges = [Edge("", a, b) for a, b in zip(ring, (*ring[1:], ring[0]), strict=True)]
    sides = [side_exactly(along_and_out(e)[1]) for e in edges]
    names = [
        side if side and sides.count(side) == 1 else f"edge {i}"
        for i, side in enumerate(sides, start=1)
    ]
    return panel_of(name, "panel", ring, names, span)


KIND = StatementKind("outline", Phase.PAPER, run)
