"""Pieces of many shapes for tests of flat drawings, put together by plain addition."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Literal

from msgspec.structs import replace

from publisher.geometry.booleans import region_difference, region_union
from publisher.geometry.measure import path_bounds
from publisher.geometry.path import Arc, Line, Path, Point, Region, circle, polygon
from publisher.geometry.transform import translated
from publisher.model.types import (
    Bend,
    Edge,
    Facet,
    Fold,
    GlueZone,
    Opening,
    Panel,
    Pattern,
    Piece,
    Score,
)
from tests.handmade import CARD, at, sliding_box_pattern

SPAN = at("content/makeshift/pattern.md", 1)
Side = Literal["top", "right", "bottom", "left"]


def _ring(left: float, top: float, right: float, bottom: float) -> tuple[Point, ...]:
    return ((left, top), (right, top), (right, bottom), (left, bottom))


def _panel(name: str, ring: tuple[Point, ...], kind: Literal["panel", "tab"]) -> Panel:
    ends = ring[1:] + ring[:1]
    sides = ("top", "right", "bottom", "left")
    edges = tuple(Edge(n, a, b) for n, a, b in zip(sides, ring, ends, strict=True))
    return Panel(name, kind, ring, edges, SPAN)


@dataclass
class Maker:
    """Grows rectangular panels from edges and keeps what a piece needs."""

    panels: list[Panel] = field(default_factory=list)
    folds: list[Fold] = field(default_factory=list)
    openings: list[Opening] = field(default_factory=list)
    zones: list[GlueZone] = field(default_factory=list)

    def first(self, name: str, width: float, height: float) -> Maker:
        self.panels.append(_panel(name, _ring(0.0, 0.0, width, height), "panel"))
        return self

    def grow(
        self,
        name: str,
        side: Side,
        of: str,
        depth: float,
        kind: Literal["panel", "tab"] = "panel",
        taper: float = 0.0,
        bend: Bend = "mountain",
    ) -> Maker:
        x0, y0, x1, y1 = next(p for p in self.panels if p.name == of).bounds
        t = taper
        ring, start, end = {
            "top": (
                ((x0 + t, y0 - depth), (x1 - t, y0 - depth), (x1, y0), (x0, y0)),
                (x0, y0),
                (x1, y0),
            ),
            "right": (
                ((x1, y0), (x1 + depth, y0 + t), (x1 + depth, y1 - t), (x1, y1)),
                (x1, y0),
                (x1, y1),
            ),
            "bottom": (
                ((x0, y1), (x1, y1), (x1 - t, y1 + depth), (x0 + t, y1 + depth)),
                (x1, y1),
                (x0, y1),
            ),
            "left": (
                ((x0 - depth, y0 + t), (x0, y0), (x0, y1), (x0 - depth, y1 - t)),
                (x0, y1),
                (x0, y0),
            ),
        }[side]
        self.panels.append(_panel(name, ring, kind))
        self.folds.append(Fold(name, start, end, bend, 90.0, of, name, SPAN))
        return self

    def strip(self, side: Side, of: str, width: float, face: Literal["front", "back"]) -> Maker:
        x0, y0, x1, y1 = next(p for p in self.panels if p.name == of).bounds
        box = {
            "top": (x0, y0, x1, y0 + width),
            "bottom": (x0, y1 - width, x1, y1),
            "left": (x0, y0, x0 + width, y1),
            "right": (x1 - width, y0, x1, y1),
        }[side]
        name = f"strip {len(self.zones) + 1}"
        self.zones.append(GlueZone(name, of, Region(polygon(_ring(*box))), face, SPAN))
        return self

    def notch(self, side: Side, of: str, width: float) -> Maker:
        """Half round, in the middle of an edge of the outline."""
        x0, y0, x1, y1 = next(p for p in self.panels if p.name == of).bounds
        r = width / 2
        cx, cy = (x0 + x1) / 2, (y0 + y1) / 2
        centre, first, last = {
            "top": ((cx, y0), (cx + r, y0), (cx - r, y0)),
            "bottom": ((cx, y1), (cx - r, y1), (cx + r, y1)),
            "left": ((x0, cy), (x0, cy - r), (x0, cy + r)),
            "right": ((x1, cy), (x1, cy + r), (x1, cy - r)),
        }[side]
        path = Path((Arc(first, last, centre, True), Line(last, first)), True)
        name = f"notch {len(self.openings) + 1}"
        self.openings.append(Opening(name, "notch", "half round", path, of, width, r, SPAN))
        return self

    def window(self, of: str, width: float, height: float) -> Maker:
        x0, y0, x1, y1 = next(p for p in self.panels if p.name == of).bounds
        cx, cy = (x0 + x1) / 2, (y0 + y1) / 2
        box = (cx - width / 2, cy - height / 2, cx + width / 2, cy + height / 2)
        name = f"window {len(self.openings) + 1}"
        ring = polygon(_ring(*box))
        self.openings.append(Opening(name, "window", "rectangle", ring, of, width, height, SPAN))
        return self

    def hole(self, of: str, width: float, at: Point) -> Maker:
        x0, y0, _, _ = next(p for p in self.panels if p.name == of).bounds
        ring = circle((x0 + at[0], y0 + at[1]), width / 2)
        name = f"window {len(self.openings) + 1}"
        self.openings.append(Opening(name, "window", "circle", ring, of, width, width, SPAN))
        return self

    def piece(self, name: str = "makeshift") -> Piece:
        cutters = [Region(o.path) for o in self.openings if o.path.closed]
        whole = region_union([Region(polygon(p.ring)) for p in self.panels])
        outline = region_difference(whole[0], *cutters)[0] if cutters else whole[0]
        x0, y0, _, _ = path_bounds(outline.outer)
        facets = []
        for panel in self.panels:
            region = Region(polygon(panel.ring))
            parts = region_difference(region, *cutters) if cutters else (region,)
            facets += [Facet(panel.name, panel.name, part) for part in parts]

        def here(p: Point) -> Point:
            return (p[0] - x0, p[1] - y0)

        def panel_here(panel: Panel) -> Panel:
            ring = tuple(here(p) for p in panel.ring)
            edges = tuple(Edge(e.name, here(e.start), here(e.end)) for e in panel.edges)
            return replace(panel, ring=ring, edges=edges)

        folds = tuple(replace(f, start=here(f.start), end=here(f.end)) for f in self.folds)
        return Piece(
            name=name,
            stock=CARD,
            copies=1,
            outline=translated(outline, -x0, -y0),
            panels=tuple(panel_here(p) for p in self.panels),
            folds=folds,
            scores=tuple(
                Score(f.name, Path((Line(f.start, f.end),), False), f.bend, f.name, SPAN)
                for f in folds
            ),
            openings=tuple(replace(o, path=translated(o.path, -x0, -y0)) for o in self.openings),
            glue_zones=tuple(replace(z, region=translated(z.region, -x0, -y0)) for z in self.zones),
            facets=tuple(replace(f, region=translated(f.region, -x0, -y0)) for f in facets),
            hinges=(),
            span=SPAN,
        )


def pattern_of(pieces: Sequence[Piece], first_unit: Literal["mm", "in"] = "mm") -> Pattern:
    """A pattern that holds just these pieces."""
    whole = sliding_box_pattern()
    meta = replace(whole.meta, first_unit=first_unit)
    return replace(whole, meta=meta, pieces=tuple(pieces), steps=(), claims=(), body=())
