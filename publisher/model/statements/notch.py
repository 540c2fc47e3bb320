"""``notch half round, 24 mm wide, at middle of top of pocket``: open to an edge."""

from __future__ import annotations

from publisher.diagnostics import Place as Spot
from publisher.diagnostics import Span
from publisher.model.bench import Bench
from publisher.model.draft import Draft
from publisher.model.findings import Refused, refuse
from publisher.model.places.resolve import point_on_edge
from publisher.model.places.things import AtPoint
from publisher.model.shaping.notches import NOTCH_SHAPES, Notch, NotchShape, mouth_is_free, notch_at
from publisher.model.shaping.panels import along_and_out
from publisher.model.shaping.paper import cut_out
from publisher.model.statements.along import points_said
from publisher.model.statements.kinds import Phase, StatementKind
from publisher.model.statements.phrases import Phrases
from publisher.model.types import Edge, Opening

_EXAMPLE = "notch half round, 24 mm wide, at middle of top of pocket"


def run(bench: Bench, phrases: Phrases) -> None:
    draft = bench.draft
    shape = _shape(phrases)
    wide = phrases.labelled("wide", "across")
    deep = phrases.labelled("deep")
    wide = wide or phrases.bare()
    if wide is None:
        raise phrases.missing("how wide it is", _EXAMPLE)
    width = bench.positive(bench.value(wide), "width")
    depth = bench.positive(bench.value(deep), "depth") if deep is not None else width / 2.0
    points, where = points_said(bench, phrases, lambda way: width, _EXAMPLE)
    names = bench.numbered("notch", len(points), phrases.statement.name)
    cut: list[Opening] = []
    for name, point in zip(names, points, strict=True):
        notch = _notch(draft, shape, width, depth, point, where)
        panel = point.panel
        cut.append(Opening(name, "notch", shape, notch.ring, panel, width, depth, phrases.span))
    assert draft.paper is not None
    result = cut_out(draft.paper, [o.path for o in cut])
    if result.outside is not None:
        raise refuse(
            "notch-too-deep",
            "the notch reaches beyond the paper, or into another opening",
            where,
            numbers=(("width_mm", width), ("depth_mm", depth)),
        )
    if len(result.left) != 1:
        raise refuse("paper-falls-apart", "the notch cuts the paper in two", where)
    draft.paper = result.left[0]
    draft.openings.extend(cut)


def _shape(phrases: Phrases) -> NotchShape:
    word = phrases.word(*NOTCH_SHAPES)
    for shape in NOTCH_SHAPES:
        if shape == word:
            return shape
    raise phrases.missing("its shape (half round, square or vee)", _EXAMPLE)


def _notch(
    draft: Draft, shape: NotchShape, width: float, depth: float, point: AtPoint, where: Span
) -> Notch:
    on = point_on_edge(draft, point)
    if on is None or on.edge is None:
        raise refuse("notch-off-edge", "a notch opens to an edge; this point lies on none", where)
    along, _ = along_and_out(on.edge)
    notch = notch_at(on.at, along, shape, width, depth)
    assert draft.paper is not None
    if not mouth_is_free(draft.paper, notch):
        raise _not_free(draft, on.edge, where, width)
    return notch


def _not_free(draft: Draft, edge: Edge, where: Span, width: float) -> Refused:
    for fold in draft.folds.values():
        if {fold.start, fold.end} == {edge.start, edge.end}:
            return refuse(
                "notch-on-fold",
                f"this edge is the fold between {fold.parent} and {fold.child}; "
                "a notch needs an edge of the paper",
                where,
                Spot(fold.span, "the fold is made here"),
                notes=("To cut an opening across a fold, use a window",),
            )
    return refuse(
        "notch-off-edge",
        "the mouth of the notch does not lie on one free, straight edge",
        where,
        numbers=(("width_mm", width),),
        notes=("It is too wide for the edge, or another cut is already there",),
    )


KIND = StatementKind("notch", Phase.CUTS, run)
