"""Where adhesive goes: strips along edges and areas, inside the paper."""

from __future__ import annotations

from publisher.geometry.booleans import region_intersection
from publisher.geometry.path import Region, polygon
from publisher.model.shaping.panels import along_and_out, edge_length, shifted
from publisher.model.types import Edge, Panel

_FAR_MM = 10_000.0


def strip_along(paper: Region, edge: Edge, width: float) -> tuple[Region, ...]:
    """The paper within ``width`` mm of the line of ``edge``, on its inner side.

    ``paper`` is the panel that the edge belongs to. Where a notch bites through the strip,
    several regions are left.
    """
    u, out = along_and_out(edge)
    a = shifted(edge.start, (u, -_FAR_MM))
    b = shifted(edge.end, (u, _FAR_MM))
    ring = polygon([a, b, shifted(b, (out, -width)), shifted(a, (out, -width))])
    return region_intersection(paper, Region(ring))


def reach(panel: Panel, edge: Edge) -> float:
    """How far the panel goes inwards from the line of ``edge``, in mm."""
    _, (ox, oy) = along_and_out(edge)
    x0, y0 = edge.start
    return max(-(ox * (x - x0) + oy * (y - y0)) for x, y in panel.ring)


def shortened(edge: Edge, at_start: float, at_end: float) -> Edge:
    """The edge without so many mm at its start and its end."""
    u, _ = along_and_out(edge)
    room = edge_length(edge)
    if at_start + at_end >= room:
        return edge
    return Edge(edge.name, shifted(edge.start, (u, at_start)), shifted(edge.end, (u, -at_end)))
