"""A piece while it is being built: what its lines have given so far."""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import Struct, field

from publisher.diagnostics import Span
from publisher.geometry.booleans import region_intersection
from publisher.geometry.measure import bounds_of
from publisher.geometry.path import Point, Region
from publisher.model.division import Division
from publisher.model.marked import Corner, Mark
from publisher.model.shaping.clear import Known
from publisher.model.shaping.paper import panel_region, without
from publisher.model.types import (
    BandOf,
    Bridge,
    Edge,
    Fold,
    GlueZone,
    Island,
    MatOf,
    Opening,
    Panel,
    Score,
)
from publisher.trade import Stock


class NamedPoint(Struct, frozen=True):
    at: Point
    edge: Edge | None
    panel: str | None
    span: Span


class NamedEdge(Struct, frozen=True):
    edge: Edge
    panel: str | None
    span: Span


class NamedLine(Struct, frozen=True):
    start: Point
    end: Point
    panel: str | None
    span: Span


class FormGroup(Struct):
    """The parts that came from one call of a form, in the order they were made."""

    span: Span
    parts: list[str] = field(default_factory=list)


class Gap(Struct, frozen=True):
    """A stretch of a fold that is not scored."""

    fold: str
    start: Point
    end: Point


class Draft(Struct):
    """Everything in it is in one frame; after the paper stands, its top left is (0, 0).

    ``paper`` is the outline as it is now: None until the paper stands, then with the notches
    and windows that have been cut so far.
    """

    name: str
    span: Span
    stock: Stock
    copies: int
    back_up: bool
    panels: dict[str, Panel] = field(default_factory=dict)
    folds: dict[str, Fold] = field(default_factory=dict)
    openings: list[Opening] = field(default_factory=list)
    islands: list[Island] = field(default_factory=list)
    bridges: list[Bridge] = field(default_factory=list)
    corners: list[Corner] = field(default_factory=list)
    curves: list[Score] = field(default_factory=list)
    """Scores that are no straight folds."""
    marks: list[Mark] = field(default_factory=list)
    divisions: list[Division] = field(default_factory=list)
    gaps: list[Gap] = field(default_factory=list)
    short: dict[str, float] = field(default_factory=dict)
    """Folds whose scores stop before the edge of the paper, and how far, mm."""
    glue: list[GlueZone] = field(default_factory=list)
    points: dict[str, NamedPoint] = field(default_factory=dict)
    lines: dict[str, NamedLine] = field(default_factory=dict)
    edges: dict[str, NamedEdge] = field(default_factory=dict)
    fold_names: dict[str, str] = field(default_factory=dict)
    forms: dict[str, FormGroup] = field(default_factory=dict)
    """What was called for as a form, by the name it was called."""
    lost: set[str] = field(default_factory=set)
    """Names that lines would have given which could not be built; already told."""
    paper: Region | None = None
    counted: dict[str, int] = field(default_factory=dict)
    """By a kind of part: all numbers below this one are taken."""
    known: Known = field(default_factory=Known)
    """Where the edges of the paper lie, while windows are cut."""
    shaped: dict[str, Region] = field(default_factory=dict)
    """The paper of panels whose outline is no polygon."""
    reshaped: bool = False
    """Whether paper was added, trimmed away or kept otherwise than by notches and windows."""
    trimmed: bool = False
    """Whether paper was taken away otherwise than by notches and windows."""
    derived: MatOf | BandOf | None = None

    def named(self) -> dict[str, Span]:
        """Every part that has a name, and where it was named."""
        spans: dict[str, Span] = {n: f.span for n, f in self.forms.items()}
        for zone in self.glue:
            spans[zone.name] = zone.span
        for opening in self.openings:
            spans[opening.name] = opening.span
        spans |= {i.name: i.span for i in self.islands}
        spans |= {b.name: b.span for b in self.bridges}
        spans |= {m.name: m.span for m in self.marks}
        spans |= {c.name: c.span for c in self.curves}
        spans |= {n: self.folds[f].span for n, f in self.fold_names.items()}
        spans |= {n: f.span for n, f in self.folds.items()}
        spans |= {n: p.span for n, p in self.points.items()}
        spans |= {n: line.span for n, line in self.lines.items()}
        spans |= {n: edge.span for n, edge in self.edges.items()}
        spans |= {n: p.span for n, p in self.panels.items()}
        return spans

    def bounds(self) -> tuple[float, float, float, float]:
        """Of all panels: x_min, y_min, x_max, y_max; nothing while there are none."""
        boxes = [p.bounds for p in self.panels.values()] or [(0.0, 0.0, 0.0, 0.0)]
        return bounds_of(boxes)

    def cut_rings(self) -> Iterator[Opening]:
        """Openings that take paper away: a slit takes none, nor a line to tear along."""
        return (o for o in self.openings if o.kind in ("window", "notch"))

    def left_of_panel(self, name: str) -> tuple[Region, ...]:
        """The panel's paper after its notches and windows; several parts where it fell apart."""
        whole = self.region_of(name)
        if self.reshaped and self.paper is not None:
            return region_intersection(whole, self.paper)
        return without(whole, [o.path for o in self.cut_rings()])

    def region_of(self, name: str) -> Region:
        """The panel's paper as its own line gave it."""
        return self.shaped.get(name) or panel_region(self.panels[name])

    def free_names(self, stem: str, used: set[str], count: int) -> list[str]:
        """The first of ``stem 1``, ``stem 2``, ... that nothing has yet, so many of them."""
        found: list[str] = []
        number = self.counted.get(stem, 1)
        while f"{stem} {number}" in used:
            number += 1
        # No name is ever free again, so that the next line need not look below this one.
        self.counted[stem] = number
        while len(found) < count:
            if f"{stem} {number}" not in used:
                found.append(f"{stem} {number}")
            number += 1
        return found

    def free_name(self, stem: str, used: set[str]) -> str:
        """The first of ``stem 1``, ``stem 2``, ... that nothing has yet."""
        return self.free_names(stem, used, 1)[0]
