"""Whether two pieces are the same paper, whatever they were made from."""

from __future__ import annotations

import math

import pytest

from publisher.geometry.canonical import canonical_path, canonical_region, oriented
from publisher.geometry.path import Arc, Path, Point, Region
from publisher.model.types import Piece


def numbers(path: Path) -> list[float]:
    """A path's figures in a form that compares."""
    found: list[float] = []
    for s in path.segments:
        found += [*s.start, *s.end]
        if isinstance(s, Arc):
            found += [*s.centre, float(s.clockwise)]
    return found


def same_path(a: Path, b: Path) -> bool:
    return numbers(a) == pytest.approx(numbers(b), abs=1e-6)


def same_region(a: Region, b: Region) -> bool:
    a, b = canonical_region(a), canonical_region(b)
    rings_a, rings_b = (a.outer, *a.holes), (b.outer, *b.holes)
    return len(rings_a) == len(rings_b) and all(map(same_path, rings_a, rings_b))


def near(a: Point, b: Point) -> bool:
    return math.dist(a, b) < 1e-6


def assert_same(made: Piece, wanted: Piece) -> None:
    """The same outline, panels, folds, scores, openings, glue, facets and hinges."""
    assert made.bounds == pytest.approx(wanted.bounds, abs=1e-6)
    assert same_region(made.outline, wanted.outline)
    assert [p.name for p in made.panels] == [p.name for p in wanted.panels]
    for a, b in zip(made.panels, wanted.panels, strict=True):
        assert (a.kind, a.meets) == (b.kind, b.meets)
        assert {e.name for e in a.edges} == {e.name for e in b.edges}
        for edge in b.edges:
            assert near(a.edge(edge.name).start, edge.start)
            assert near(a.edge(edge.name).end, edge.end)
    assert [f.name for f in made.folds] == [f.name for f in wanted.folds]
    for c, d in zip(made.folds, wanted.folds, strict=True):
        assert (c.bend, c.closing_deg, c.parent, c.child) == (
            d.bend,
            d.closing_deg,
            d.parent,
            d.child,
        )
        assert near(c.start, d.start)
        assert near(c.end, d.end)
    assert [s.name for s in made.scores] == [s.name for s in wanted.scores]
    for e, f in zip(made.scores, wanted.scores, strict=True):
        assert (e.bend, e.fold) == (f.bend, f.fold)
        assert same_path(e.path, f.path)
    assert [o.name for o in made.openings] == [o.name for o in wanted.openings]
    for g, h in zip(made.openings, wanted.openings, strict=True):
        assert (g.kind, g.shape, g.panel) == (h.kind, h.shape, h.panel)
        assert (g.width_mm, g.depth_mm) == pytest.approx((h.width_mm, h.depth_mm))
        assert same_path(
            canonical_path(oriented(g.path, True)), canonical_path(oriented(h.path, True))
        )
    assert [z.name for z in made.glue_zones] == [z.name for z in wanted.glue_zones]
    for i, j in zip(made.glue_zones, wanted.glue_zones, strict=True):
        assert (i.panel, i.face, i.meets) == (j.panel, j.face, j.meets)
        assert same_region(i.region, j.region)
    assert [f.name for f in made.facets] == [f.name for f in wanted.facets]
    for k, m in zip(made.facets, wanted.facets, strict=True):
        assert same_region(k.region, m.region)
    assert {(h.fold, h.parent, h.child) for h in made.hinges} == {
        (h.fold, h.parent, h.child) for h in wanted.hinges
    }
