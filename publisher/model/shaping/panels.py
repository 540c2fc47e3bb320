"""Panels: the first one, chains of them, and panels grown from an edge of another."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Literal

from msgspec.structs import replace

from publisher.diagnostics import Span
from publisher.geometry.path import Point
from publisher.model.types import Bend, Edge, Fold, Panel

SIDES = ("top", "right", "bottom", "left")
"""Names of a rectangle's edges in clockwise order."""

OPPOSITE = {"top": "bottom", "bottom": "top", "left": "right", "right": "left"}

_TINY_MM = 1e-9
_SQUARE = 1e-7


def panel_of(
    name: str,
    kind: Literal["panel", "tab"],
    ring: Sequence[Point],
    edge_names: Sequence[str],
    span: Span,
    meets: tuple[str, str] | None = None,
) -> Panel:
    """A panel from its clockwise ring; ``edge_names[i]`` is the edge that starts at ``ring[i]``.

    The ring is turned so that the edge "top" comes first where there is one.
    """
    first = edge_names.index("top") if "top" in edge_names else 0
    points = tuple(ring[first:]) + tuple(ring[:first])
    names = tuple(edge_names[first:]) + tuple(edge_names[:first])
    ends = points[1:] + points[:1]
    edges = tuple(Edge(n, a, b) for n, a, b in zip(names, points, ends, strict=True))
    return Panel(name, kind, points, edges, span, meets)


def rectangle(
    name: str,
    left: float,
    top: float,
    width: float,
    height: float,
    span: Span,
    kind: Literal["panel", "tab"] = "panel",
) -> Panel:
    """A rectangular panel with its top left corner at (``left``, ``top``), all in mm."""
    right, bottom = left + width, top + height
    ring = ((left, top), (right, top), (right, bottom), (left, bottom))
    return panel_of(name, kind, ring, SIDES, span)


def edge_length(edge: Edge) -> float:
    return math.dist(edge.start, edge.end)


def along_and_out(edge: Edge) -> tuple[Point, Point]:
    """Unit vectors along the edge (clockwise walk) and out of the panel, flat, y down."""
    length = edge_length(edge)
    u = ((edge.end[0] - edge.start[0]) / length, (edge.end[1] - edge.start[1]) / length)
    return u, (u[1], -u[0])


def shifted(p: Point, *moves: tuple[Point, float]) -> Point:
    """``p`` moved by each vector times its length."""
    x, y = p
    for (dx, dy), k in moves:
        x += dx * k
        y += dy * k
    return (x, y)


def side_facing(outward: Point) -> str:
    """Which of the four sides looks most nearly in that direction."""
    across, down = outward
    if abs(across) > abs(down):
        return "right" if across > 0 else "left"
    return "bottom" if down > 0 else "top"


def side_exactly(outward: Point) -> str:
    """The side that looks in just that direction, "" where it is none of the four."""
    across, down = outward
    if min(abs(across), abs(down)) > _SQUARE:
        return ""
    return side_facing(outward)


def stretch(edge: Edge, width: float | None) -> Edge:
    """The middle ``width`` mm of an edge; all of it for None."""
    if width is None:
        return edge
    spare = (edge_length(edge) - width) / 2.0
    u, _ = along_and_out(edge)
    return Edge(edge.name, shifted(edge.start, (u, spare)), shifted(edge.end, (u, -spare)))


def grown(
    name: str,
    kind: Literal["panel", "tab"],
    edge: Edge,
    depth: float,
    span: Span,
    *,
    taper_start: float = 0.0,
    taper_end: float = 0.0,
    meets: tuple[str, str] | None = None,
) -> Panel:
    """A panel that grows ``depth`` mm out of ``edge`` (an edge of its parent).

    The tapers are how much shorter the far edge is, in mm, at the start and at the end of the
    parent's edge; where they take all of it the panel is a triangle. Edges are named by side:
    what grew from a "bottom" edge has its fold on "top" and its free edge at the "bottom".
    """
    u, out = along_and_out(edge)
    far_start = shifted(edge.start, (out, depth), (u, taper_start))
    far_end = shifted(edge.end, (out, depth), (u, -taper_end))
    side = edge.name if edge.name in OPPOSITE else side_facing(out)
    first = SIDES.index(OPPOSITE[side])
    names = [SIDES[(first + i) % 4] for i in range(4)]
    ring = [edge.end, edge.start, far_start, far_end]
    if math.dist(far_start, far_end) < _TINY_MM:
        del ring[3], names[2]
    return panel_of(name, kind, ring, names, span, meets)


def fold_on(
    edge: Edge, parent: str, child: str, bend: Bend, closing_deg: float, span: Span
) -> Fold:
    """The fold where ``child`` grew from ``edge`` of ``parent``; it takes the child's name."""
    return Fold(child, edge.start, edge.end, bend, closing_deg, parent, child, span)


def chain(
    names: Sequence[str],
    lengths: Sequence[float],
    cross: float,
    direction: Literal["across", "down"],
    bends: Sequence[Bend],
    closing_deg: float,
    spans: Sequence[Span],
) -> tuple[tuple[Panel, ...], tuple[Fold, ...]]:
    """Rectangles one after another from (0, 0), ``cross`` mm in the other direction.

    ``bends[i]`` is the fold between panel i and panel i + 1.
    """
    panels: list[Panel] = []
    folds: list[Fold] = []
    at = 0.0
    for i, (name, length) in enumerate(zip(names, lengths, strict=True)):
        if direction == "across":
            panel = rectangle(name, at, 0.0, length, cross, spans[i])
        else:
            panel = rectangle(name, 0.0, at, cross, length, spans[i])
        if panels:
            edge = panels[-1].edge("right" if direction == "across" else "bottom")
            folds.append(fold_on(edge, panels[-1].name, name, bends[i - 1], closing_deg, spans[i]))
        panels.append(panel)
        at += length
    return tuple(panels), tuple(folds)


def moved_panel(panel: Panel, dx: float, dy: float) -> Panel:
    """The panel shifted by (``dx``, ``dy``) mm."""

    def move(p: Point) -> Point:
        return (p[0] + dx, p[1] + dy)

    return replace(
        panel,
        ring=tuple(move(p) for p in panel.ring),
        edges=tuple(Edge(e.name, move(e.start), move(e.end)) for e in panel.edges),
    )


def inside_ring(ring: Sequence[Point], p: Point) -> bool:
    """Whether ``p`` lies in the polygon (even-odd rule; on the border either answer)."""
    inside = False
    for (x1, y1), (x2, y2) in zip(ring, (*ring[1:], ring[0]), strict=True):
        if (y1 > p[1]) != (y2 > p[1]) and p[0] < x1 + (p[1] - y1) / (y2 - y1) * (x2 - x1):
            inside = not inside
    return inside
