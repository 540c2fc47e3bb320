"""``join``, ``trim`` and ``cut``: paper added to the outline, kept within a shape, taken away.

What is open on one side (half round, square, vee) is joined by that side: it grows out of the
edge at the point that is named. Every other shape has its middle there.
"""

from __future__ import annotations

from publisher.diagnostics import Span
from publisher.geometry.booleans import region_difference, region_intersection, region_union
from publisher.geometry.measure import area
from publisher.geometry.path import Region
from publisher.model.bench import Bench
from publisher.model.findings import refuse
from publisher.model.places.resolve import point_on_edge
from publisher.model.shaping.notches import NOTCH_SHAPES, NotchShape, notch_at
from publisher.model.shaping.panels import along_and_out
from publisher.model.statements.along import points_said
from publisher.model.statements.kinds import Phase, StatementKind
from publisher.model.statements.phrases import Phrases
from publisher.model.statements.placed import place_all
from publisher.model.statements.shapes import read_shape

_DUST_MM2 = 1e-4
_JOIN = "join half round, 30 mm wide, at middle of top of flap"
_TRIM = "trim circle, 60 mm across, at middle"
_CUT = "cut circle, 30 mm across, at top right of flap"


def run_join(bench: Bench, phrases: Phrases) -> None:
    grown = _grown(bench, phrases)
    added, where = grown if grown is not None else _shapes(bench, phrases, _JOIN)
    draft = bench.draft
    assert draft.paper is not None
    joined = region_union([draft.paper, *added])
    if len(joined) != 1:
        raise refuse("paper-falls-apart", "what is joined does not touch the paper", where)
    if area(joined[0]) - area(draft.paper) <= _DUST_MM2:
        raise refuse("changes-nothing", "this lies on the paper already; nothing is joined", where)
    draft.paper = joined[0]
    draft.reshaped = True


def _grown(bench: Bench, phrases: Phrases) -> tuple[list[Region], Span] | None:
    """Open shapes at points of edges, pointing out; None where the line names no open shape."""
    word = phrases.word(*NOTCH_SHAPES)
    shape: NotchShape | None = next((s for s in NOTCH_SHAPES if s == word), None)
    if shape is None:
        return None
    wide = phrases.labelled("wide", "across") or phrases.bare()
    if wide is None:
        raise phrases.missing("how wide it is", _JOIN)
    width = bench.positive(bench.value(wide), "width")
    deep = phrases.labelled("deep", "high")
    depth = bench.positive(bench.value(deep), "depth") if deep is not None else width / 2.0
    points, where = points_said(bench, phrases, lambda way: width, _JOIN)
    found: list[Region] = []
    for point in points:
        on = point_on_edge(bench.draft, point)
        if on is None or on.edge is None:
            raise refuse(
                "notch-off-edge",
                "this grows out of an edge; the point lies on none",
                where,
            )
        (ux, uy), _ = along_and_out(on.edge)
        # Walked the other way, what lies inside of the edge is outside.
        found.append(Region(notch_at(on.at, (-ux, -uy), shape, width, depth).ring))
    return found, where


def _shapes(bench: Bench, phrases: Phrases, example: str) -> tuple[list[Region], Span]:
    shape = read_shape(bench, phrases, example)
    placed, where = place_all(bench, phrases, shape, example)
    return [region for one in placed for region in one.regions], where


def run_trim(bench: Bench, phrases: Phrases) -> None:
    kept, where = _shapes(bench, phrases, _TRIM)
    draft = bench.draft
    assert draft.paper is not None
    left = tuple(r for one in kept for r in region_intersection(draft.paper, one))
    _leave(
        bench,
        left,
        where,
        "no paper lies within this shape",
        "all the paper lies within this shape",
    )


def run_cut(bench: Bench, phrases: Phrases) -> None:
    away, where = _shapes(bench, phrases, _CUT)
    draft = bench.draft
    assert draft.paper is not None
    left = region_difference(draft.paper, *away)
    _leave(bench, left, where, "this takes all the paper away", "no paper lies within this shape")


def _leave(
    bench: Bench, left: tuple[Region, ...], where: Span, nothing: str, everything: str
) -> None:
    """Makes ``left`` the paper, which has to be one part and less than it was."""
    draft = bench.draft
    assert draft.paper is not None
    if not left:
        raise refuse("nothing-left", nothing, where)
    if len(left) > 1:
        raise refuse("paper-falls-apart", "this leaves the paper in several parts", where)
    if area(draft.paper) - area(left[0]) <= _DUST_MM2:
        raise refuse("changes-nothing", everything, where)
    draft.paper = left[0]
    draft.reshaped = draft.trimmed = True


JOIN = StatementKind("join", Phase.SHAPING, run_join)
TRIM = StatementKind("trim", Phase.TRIMMING, run_trim)
CUT = StatementKind("cut", Phase.TRIMMING, run_cut)
