"""Paper laid and finished: panels joined to one outline, then its scores, facets and hinges."""

from __future__ import annotations

from msgspec.structs import replace

from publisher.diagnostics import Diagnostic, Place
from publisher.geometry.booleans import region_union
from publisher.geometry.canonical import canonical_region
from publisher.geometry.measure import path_bounds
from publisher.geometry.transform import translated
from publisher.model.bench import Bench
from publisher.model.draft import Draft
from publisher.model.shaping.facets import facets_of, hinges_of, scores_of
from publisher.model.shaping.panels import moved_panel
from publisher.model.shaping.paper import overlaps
from publisher.model.types import Fold, Piece


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
    x, y, _, _ = path_bounds(regions[0].outer)
    draft.panels = {n: moved_panel(p, -x, -y) for n, p in draft.panels.items()}
    draft.folds = {n: _moved_fold(f, -x, -y) for n, f in draft.folds.items()}
    draft.shaped = {n: translated(r, -x, -y) for n, r in draft.shaped.items()}
    draft.paper = translated(regions[0], -x, -y)
    return None


def _moved_fold(fold: Fold, dx: float, dy: float) -> Fold:
    (x1, y1), (x2, y2) = fold.start, fold.end
    return replace(fold, start=(x1 + dx, y1 + dy), end=(x2 + dx, y2 + dy))


def finished(draft: Draft) -> Piece:
    """The piece as its lines have left it: scores, facets and hinges follow from the paper."""
    assert draft.paper is not None
    outline = canonical_region(draft.paper)
    panels = tuple(draft.panels.values())
    folds = tuple(draft.folds.values())
    scores = scores_of(folds, outline, list(draft.cut_rings()))
    slits = [o.path for o in draft.openings if o.kind == "slit"]
    facets = facets_of(outline, panels, [*(s.path for s in scores), *slits])
    return Piece(
        name=draft.name,
        stock=draft.stock,
        copies=draft.copies,
        outline=outline,
        panels=panels,
        folds=folds,
        scores=scores,
        openings=tuple(draft.openings),
        glue_zones=tuple(draft.glue),
        facets=facets,
        hinges=hinges_of(folds, facets),
        span=draft.span,
        back_up=draft.back_up,
        derived=draft.derived,
        islands=tuple(draft.islands),
        bridges=tuple(draft.bridges),
    )
