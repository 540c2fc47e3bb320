"""Where adhesive goes: strips along edges and areas, inside the paper."""

from __future__ import annotations

from publisher.geometry.booleans import region_intersection
from publisher.geometry.convex import between, is_convex
from publisher.geometry.path import Point, Region, polygon
from publisher.model.shaping.panels import along_and_out, shifted
from publisher.model.types import Edge, Panel

_FAR_MM = 10_000.0


def strip_along(paper: Region, edge: Edge, width: float, whole: bool = True) -> tuple[Region, ...]:
    """The paper within ``width`` mm of the line of ``edge``, on its inner side.

    ``paper`` is the panel that the edge belongs to. ``whole`` takes all that lies along the
    line, also where the panel widens beyond the edge's ends; else the strip ends square with
    the edge. Where a notch bites through the strip, several regions are left.
    """
    u, out = along_and_out(edge)
    if whole and is_convex(paper):
        # No need to work out where lines meet: the paper is cut along one line.
        inner = shifted(edge.start, (out, -width))
        return between(paper, (edge.start, out), (inner, (-out[0], -out[1])))
    beyond = _FAR_MM if whole else 0.0
    a = shifted(edge.start, (u, -beyond))
    b = shifted(edge.end, (u, beyond))
    ring = polygon([a, b, shifted(b, (out, -width)), shifted(a, (out, -width))])
    return region_intersection(paper, Region(ring))


def reach(panel: Panel, edge: Edge) -> float:
    """How far the panel goes inwards from the line of ``edge``, in mm."""
    _, (ox, oy) = along_and_out(edge)
    x0, y0 = edge.start
    return max(-(ox * (x - x0) + oy * (y - y0)) for x, y in panel.ring)


def walked_like(edge: Edge, a: Point, b: Point) -> Edge:
    """The stretch between two points on an edge's line, walked as the edge is."""
    u, _ = along_and_out(edge)
    ahead = (b[0] - a[0]) * u[0] + (b[1] - a[1]) * u[1]
    return Edge(edge.name, a, b) if ahead >= 0 else Edge(edge.name, b, a)
