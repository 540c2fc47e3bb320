"""Paper laid and finished: panels joined to one outline, then its scores, facets and hinges."""

from __future__ import annotations

from msgspec.structs import replace

from publisher.diagnostics import Diagnostic, Place
from publisher.geometry.booleans import region_union
from publisher.geometry.canonical import canonical_region
from publisher.geometry.measure import path_bounds
from publisher.geometry.path import Point
from publisher.geometry.transform import translated
from publisher.model.bench import Bench
from publisher.model.draft import Draft
from publisher.model.shaping.facets import facets_of, hinges_of
from publisher.model.shaping.panels import moved_panel
from publisher.model.shaping.paper import overlaps
from publisher.model.shaping.scores import scores_of, shortened
from publisher.model.types import Edge, Fold, Piece


def lay_paper(bench: Bench) -> Diagnostic | None:
    """Joins the panels to one outline with its top left at (0, 0)."""
    draft = bench.draft
    if draft.paper is not None:
        return None
    panels = list(draft.panels.values())
    for first, second, shared in overlaps(panels):
        a, b = draft.panels[first], draft.panels[second]
        return Diagnostic(
            "panels-collide",
            "error",
            f"{first} and {second} would need the same paper",
            (Place(b.span, second), Place(a.span, first)),
            numbers=(("shared_mm2", shared),),
        )
    regions = region_union([draft.region_of(p.name) for p in panels])
    if len(regions) != 1:
        return Diagnostic(
            "paper-falls-apart",
            "error",
            f"the panels of {draft.name} do not hang together",
            (Place(draft.span),),
        )
    draft.paper = regions[0]
    to_top_left(draft)
    return None


def to_top_left(draft: Draft) -> None:
    """Moves everything so that the paper's top left is (0, 0)."""
    assert draft.paper is not None
    x, y, _, _ = path_bounds(draft.paper.outer)
    draft.panels = {n: moved_panel(p, -x, -y) for n, p in draft.panels.items()}
    draft.folds = {n: _moved_fold(f, -x, -y) for n, f in draft.folds.items()}
    draft.shaped = {n: translated(r, -x, -y) for n, r in draft.shaped.items()}
    draft.points = {n: replace(p, at=_moved(p.at, -x, -y)) for n, p in draft.points.items()}
    draft.edges = {n: replace(e, edge=_moved_edge(e.edge, -x, -y)) for n, e in draft.edges.items()}
    draft.lines = {
        n: replace(e, start=_moved(e.start, -x, -y), end=_moved(e.end, -x, -y))
        for n, e in draft.lines.items()
    }
    draft.paper = translated(draft.paper, -x, -y)


def _moved(p: Point, dx: float, dy: float) -> Point:
    return (p[0] + dx, p[1] + dy)


def _moved_edge(edge: Edge, dx: float, dy: float) -> Edge:
    return Edge(edge.name, _moved(edge.start, dx, dy), _moved(edge.end, dx, dy))


def _moved_fold(fold: Fold, dx: float, dy: float) -> Fold:
    return replace(fold, start=_moved(fold.start, dx, dy), end=_moved(fold.end, dx, dy))


def _unscored(draft: Draft) -> dict[str, list[tuple[Point, Point]]]:
    found: dict[str, list[tuple[Point, Point]]] = {}
    for gap in draft.gaps:
        found.setdefault(gap.fold, []).append((gap.start, gap.end))
    return found


def finished(draft: Draft) -> Piece:
    """The piece as its lines have left it: scores, facets and hinges follow from the paper."""
    assert draft.paper is not None
    outline = canonical_region(draft.paper)
    panels = tuple(draft.panels.values())
    folds = tuple(draft.folds.values())
    cuts = None if draft.trimmed else list(draft.cut_rings())
    scores = scores_of(folds, outline, cuts, draft.gaps)
    slits = [o.path for o in draft.openings if o.kind == "slit"]
    facets = facets_of(outline, panels, [*(s.path for s in scores), *slits])
    return Piece(
        name=draft.name,
        stock=draft.stock,
        copies=draft.copies,
        outline=outline,
        panels=panels,
        folds=folds,
        scores=(*shortened(scores, outline, draft.short), *draft.curves),
        openings=tuple(draft.openings),
        glue_zones=tuple(draft.glue),
        facets=facets,
        hinges=hinges_of(folds, facets, _unscored(draft)),
        span=draft.span,
        back_up=draft.back_up,
        derived=draft.derived,
        islands=tuple(draft.islands),
        bridges=tuple(draft.bridges),
        corners=tuple(draft.corners),
        marks=tuple(draft.marks),
        divisions=tuple(draft.divisions),
    )
