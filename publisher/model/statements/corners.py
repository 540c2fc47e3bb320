"""``corners rounded, 6 mm radius, at top left of flap``: corners of the paper cut off."""

from __future__ import annotations

import math

from publisher.diagnostics import Span
from publisher.geometry.corners import CornerCut, corners_of, reach_of, with_corner
from publisher.geometry.path import Path, Point, Region
from publisher.geometry.segments import direction_at
from publisher.language.ast import Phrase
from publisher.model.bench import Bench
from publisher.model.findings import Refused, refuse
from publisher.model.marked import Corner
from publisher.model.statements.kinds import Phase, StatementKind
from publisher.model.statements.phrases import Phrases
from publisher.units import both

_EXAMPLE = "corners rounded, 6 mm radius, at top left of flap"
_CUTS: tuple[CornerCut, ...] = ("rounded", "bevelled", "scooped")


def run(bench: Bench, phrases: Phrases) -> None:
    draft = bench.draft
    how = _how(phrases)
    size, said = read_cut_size(bench, phrases, how, _EXAMPLE)
    places = phrases.places("at")
    assert draft.paper is not None
    paper = draft.paper
    if places:
        wanted = [(p.at, p.panel) for p in bench.points(places)]
        where = places[0].span
    else:
        wanted = [(p, None) for p in outward(paper.outer)]
        where = phrases.statement.head_span
    cut: list[Corner] = []
    for at, panel in dict.fromkeys(wanted):
        paper = with_corner_cut(paper, at, how, size, where, said.span)
        cut.append(Corner(how, size, at, panel or bench.panel_at(at), phrases.span))
    draft.paper = paper
    draft.reshaped = draft.trimmed = True
    draft.corners.extend(cut)


def _how(phrases: Phrases) -> CornerCut:
    word = phrases.word(*_CUTS)
    for how in _CUTS:
        if how == word:
            return how
    raise phrases.missing("how they are cut (rounded, bevelled or scooped)", _EXAMPLE)


def read_cut_size(
    bench: Bench, phrases: Phrases, how: CornerCut, example: str
) -> tuple[float, Phrase]:
    """The radius, or how deep a bevel goes, and the phrase that says it."""
    label = "deep" if how == "bevelled" else "radius"
    said = phrases.labelled(label) or phrases.bare()
    if said is None:
        what = "how deep they are cut along each edge" if label == "deep" else "their radius"
        raise phrases.missing(what, example)
    return bench.positive(bench.value(said), "depth" if label == "deep" else label), said


def outward(ring: Path) -> list[Point]:
    """Corners of a clockwise ring at which it turns to the right."""
    segments = ring.segments
    known = set(corners_of(ring))
    found = []
    for before, after in zip(segments[-1:] + segments[:-1], segments, strict=True):
        u, v = direction_at(before, 1.0), direction_at(after, 0.0)
        if after.start in known and u[0] * v[1] - u[1] * v[0] > 0.0:
            found.append(after.start)
    return found


def with_corner_cut(
    paper: Region, at: Point, how: CornerCut, size_mm: float, where: Span, said: Span
) -> Region:
    """The paper with one corner cut; ``where`` says the corner and ``said`` the size."""
    rings = [paper.outer, *paper.holes]
    number = next((i for i, ring in enumerate(rings) if _has(ring, at)), None)
    if number is None:
        raise _no_corner(where)
    ring = with_corner(rings[number], at, how, size_mm)
    if ring == "none":
        raise _no_corner(where)
    if ring == "curved":
        raise refuse(
            "no-corner", "one side of this corner is an arc; it has to lie between two edges", where
        )
    if ring == "too large":
        reach = reach_of(rings[number], at)
        raise refuse(
            "corner-too-large",
            f"only {both(reach, kind='ruled')} of edge is free at this corner",
            said,
            numbers=(("size_mm", size_mm), ("edge_mm", reach)),
        )
    rings[number] = ring
    return Region(rings[0], tuple(rings[1:]))


def _has(ring: Path, at: Point) -> bool:
    return any(math.dist(s.start, at) <= 1e-5 for s in ring.segments)


def _no_corner(where: Span) -> Refused:
    return refuse(
        "no-corner",
        "there is no corner of the paper here",
        where,
        notes=("A corner at which another panel or a tab goes on is none",),
    )


KIND = StatementKind("corners", Phase.CORNERS, run)
