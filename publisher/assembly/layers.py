"""How many papers lie over a point, and in which order."""

from __future__ import annotations

from collections.abc import Sequence

from msgspec import Struct

from publisher.assembly.kit import shape_of
from publisher.assembly.layering import leads
from publisher.assembly.types import FacetId, State
from publisher.geometry.path import Point
from publisher.geometry.space import Vector, lift
from publisher.model.types import Pattern


class Layers(Struct, frozen=True):
    """The papers over a point, the lowest first (as ``State.above`` counts up), and their
    calipers together."""

    facets: tuple[FacetId, ...]
    thickness_mm: float

    @property
    def papers(self) -> int:
        return len(self.facets)


def layers(pattern: Pattern, state: State, at: FacetId, point: Point) -> Layers:
    """All papers that lie on each other over ``point`` (flat coordinates, mm) of a facet."""
    spot = state.body(at[0]).facet_pose(at[1]).apply(lift(point))
    found: list[FacetId] = []
    waiting = [at] if _covers(pattern, state, at, spot) else []
    while waiting:
        facet = waiting.pop()
        if facet in found:
            continue
        found.append(facet)
        for lower, upper, _ in state.above:
            other = upper if lower == facet else lower if upper == facet else None
            if other is not None and _covers(pattern, state, other, spot):
                waiting.append(other)
    return Layers(_lowest_first(state, found), sum(_caliper(pattern, state, f) for f in found))


def _caliper(pattern: Pattern, state: State, facet: FacetId) -> float:
    return pattern.piece(state.body(facet[0]).piece).stock.caliper_mm


def _covers(pattern: Pattern, state: State, facet: FacetId, spot: Vector) -> bool:
    """Whether a facet has paper over a point in space, seen along its normal."""
    body = state.body(facet[0])
    local = body.facet_pose(facet[1]).inverse().apply(spot)
    shape = shape_of(pattern.piece(body.piece).facet(facet[1]).region)
    point = (local[0], -local[1])
    return _inside(shape.outer, point) and not any(_inside(hole, point) for hole in shape.holes)


def _inside(ring: Sequence[Point], point: Point) -> bool:
    """Even-odd rule: whether a ray to the right crosses the ring an odd number of times."""
    x, y = point
    odd = False
    for a, b in zip(ring, [*ring[1:], ring[0]], strict=True):
        if (a[1] > y) != (b[1] > y) and x < a[0] + (y - a[1]) * (b[0] - a[0]) / (b[1] - a[1]):
            odd = not odd
    return odd


def _lowest_first(state: State, facets: Sequence[FacetId]) -> tuple[FacetId, ...]:
    graph: dict[FacetId, set[FacetId]] = {}
    for lower, upper, _ in state.above:
        graph.setdefault(lower, set()).add(upper)

    def under(facet: FacetId) -> tuple[int, FacetId]:
        return sum(leads(graph, other, facet) for other in facets if other != facet), facet

    return tuple(sorted(facets, key=under))
