"""What a place can turn out to be."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeAlias

from publisher.geometry.path import Point
from publisher.model.types import Edge, GlueZone, Island, Opening, Panel


@dataclass(frozen=True, slots=True)
class Whole:
    """The piece itself."""


@dataclass(frozen=True, slots=True)
class AtPanel:
    panel: Panel


@dataclass(frozen=True, slots=True)
class AtEdge:
    """An edge; ``panel`` is None where it runs along several panels of the piece."""

    edge: Edge
    panel: str | None


@dataclass(frozen=True, slots=True)
class AtLine:
    """A fold, a named line, or a line at a distance from one."""

    start: Point
    end: Point
    panel: str | None


@dataclass(frozen=True, slots=True)
class AtPoint:
    """A point; ``edge`` is the edge it was found on, where there is one."""

    at: Point
    edge: Edge | None
    panel: str | None
    out: Point | None = None
    """Where it points, a unit vector: for tips and sides of islands."""
    island: str = ""


@dataclass(frozen=True, slots=True)
class AtOpening:
    opening: Opening


@dataclass(frozen=True, slots=True)
class AtIsland:
    island: Island


@dataclass(frozen=True, slots=True)
class AtGlue:
    zone: GlueZone


Thing: TypeAlias = Whole | AtPanel | AtEdge | AtLine | AtPoint | AtOpening | AtIsland | AtGlue


def kind_of(thing: Thing) -> str:
    """In a maker's word."""
    if isinstance(thing, Whole):
        return "a piece"
    if isinstance(thing, AtPanel):
        return "a panel"
    if isinstance(thing, AtEdge):
        return "an edge"
    if isinstance(thing, AtLine):
        return "a line"
    if isinstance(thing, AtPoint):
        return "a point"
    if isinstance(thing, AtOpening):
        return f"a {thing.opening.kind}"
    if isinstance(thing, AtIsland):
        return "an island"
    return "a glue zone"
