"""What a place can turn out to be."""

from __future__ import annotations

from typing import TypeAlias

from msgspec import Struct

from publisher.geometry.path import Point
from publisher.model.types import Edge, GlueZone, Island, Opening, Panel


class Whole(Struct, frozen=True):
    """The piece itself."""


class AtPanel(Struct, frozen=True):
    panel: Panel


class AtEdge(Struct, frozen=True):
    """An edge; ``panel`` is None where it runs along several panels of the piece."""

    edge: Edge
    panel: str | None


class AtLine(Struct, frozen=True):
    """A fold, a named line, or a line at a distance from one."""

    start: Point
    end: Point
    panel: str | None


class AtPoint(Struct, frozen=True):
    """A point; ``edge`` is the edge it was found on, where there is one."""

    at: Point
    edge: Edge | None
    panel: str | None
    out: Point | None = None
    """Where it points, a unit vector: for tips and sides of islands."""
    island: str = ""


class AtOpening(Struct, frozen=True):
    opening: Opening


class AtIsland(Struct, frozen=True):
    island: Island


class AtForm(Struct, frozen=True):
    """Everything that a call of a form gave."""

    name: str


class AtGlue(Struct, frozen=True):
    zone: GlueZone


Thing: TypeAlias = (
    Whole | AtPanel | AtEdge | AtLine | AtPoint | AtOpening | AtIsland | AtGlue | AtForm
)


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
    if isinstance(thing, AtForm):
        return "all that a form gives"
    return "a glue zone"
