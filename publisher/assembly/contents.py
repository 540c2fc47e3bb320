"""Things that are put into paper, as bodies of their own: what a step speaks of by its size."""

from __future__ import annotations

from publisher.diagnostics import Span
from publisher.geometry.path import Point, Region, polygon
from publisher.model.types import Edge, Facet, Fold, Hinge, Panel, Pattern, Piece, Target
from publisher.trade import Stock

_FLAT_MM = 4.0
_FLAT_SHARE = 0.25
"""What is thinner, and thinner than this share of its shorter side, is handled as a sheet."""


def contents_of(pattern: Pattern) -> tuple[Piece, ...]:
    """One piece for every object that steps move or that something is moved to, by name."""
    found: dict[str, Piece] = {}
    for step in pattern.steps:
        for action in step.actions:
            for target in (*action.subjects, *action.objects):
                if target.kind == "object" and target.size_mm is not None:
                    found.setdefault(target.piece, _thing(target, target.size_mm, action.span))
    return tuple(found.values())


def _thing(target: Target, size: tuple[float, float, float], span: Span) -> Piece:
    across, down, deep = size
    if deep <= min(_FLAT_MM, _FLAT_SHARE * min(across, down)):
        base = _panel(target.piece, 0.0, 0.0, across, down, span)
        return _made(target.piece, deep, (base,), (), span)
    x1, y1 = deep + across, deep + down
    base = _panel("base", deep, deep, x1, y1, span)
    sides = {
        "front side": ((deep, y1, x1, y1 + deep), (x1, y1), (deep, y1)),
        "back side": ((deep, 0.0, x1, deep), (deep, deep), (x1, deep)),
        "left side": ((0.0, deep, deep, y1), (deep, y1), (deep, deep)),
        "right side": ((x1, deep, x1 + deep, y1), (x1, deep), (x1, y1)),
    }
    panels, folds = [base], []
    for name, (bounds, start, end) in sides.items():
        panels.append(_panel(name, *bounds, span))
        folds.append(Fold(name, start, end, "mountain", 90.0, "base", name, span))
    panels.append(_panel("top", deep, -down, x1, 0.0, span))
    edge: tuple[Point, Point] = ((deep, 0.0), (x1, 0.0))
    folds.append(Fold("top", *edge, "mountain", 90.0, "back side", "top", span))
    return _made(target.piece, 0.0, tuple(panels), tuple(folds), span)


def _panel(name: str, x0: float, y0: float, x1: float, y1: float, span: Span) -> Panel:
    ring = ((x0, y0), (x1, y0), (x1, y1), (x0, y1))
    names = ("top", "right", "bottom", "left")
    edges = tuple(Edge(n, ring[i], ring[(i + 1) % 4]) for i, n in enumerate(names))
    return Panel(name, "panel", ring, edges, span)


def _made(
    name: str, deep: float, panels: tuple[Panel, ...], folds: tuple[Fold, ...], span: Span
) -> Piece:
    stock = Stock(name, name, deep, 0.0, "#d9d9d9", "#c8c8c8", "none", False, "", "")
    return Piece(
        name=name,
        stock=stock,
        copies=1,
        outline=Region(polygon(panels[0].ring)),
        panels=panels,
        folds=folds,
        scores=(),
        openings=(),
        glue_zones=(),
        facets=tuple(Facet(p.name, p.name, Region(polygon(p.ring))) for p in panels),
        hinges=tuple(Hinge(f.name, f.parent, f.child, f.start, f.end) for f in folds),
        span=span,
    )
