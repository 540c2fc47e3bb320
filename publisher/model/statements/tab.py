"""``tab on left of wall, 12 mm deep, 2 mm taper, mountain by 90 degrees, meets bottom of side``.

A tab is a panel that is glued. Where two tabs grow from edges that meet in a point, each is
drawn in to its own half of the corner. A tab that meets an edge is a glue zone on its front
face, unless a ``glue`` line says otherwise.
"""

from __future__ import annotations

from publisher.language.ast import Place
from publisher.model.bench import Bench, TabPlan
from publisher.model.findings import refuse
from publisher.model.places.things import AtEdge
from publisher.model.shaping.mating import mated
from publisher.model.shaping.mitres import corner_taper
from publisher.model.shaping.panels import edge_length, fold_on, grown
from publisher.model.statements.folding import bend_and_angle
from publisher.model.statements.kinds import Phase, StatementKind
from publisher.model.statements.phrases import Phrases
from publisher.model.statements.taper import read_taper


def run(bench: Bench, phrases: Phrases) -> None:
    draft = bench.draft
    places, edges, partners = _edges(bench, phrases)
    deep = phrases.labelled("deep")
    if deep is None:
        raise phrases.missing("how deep it is", "12 mm deep")
    depth = bench.positive(bench.value(deep), "depth")
    taper = read_taper(bench, phrases, depth)
    bend, angle = bend_and_angle(bench, phrases)
    if partners is None:
        partners = _partners(bench, phrases, len(edges))
    for at in edges:
        if at.panel is None:
            raise refuse("wrong-place", "a tab grows from the edge of one panel", places[0].span)
        if 2 * taper.mm > edge_length(at.edge) + 1e-9:
            raise taper.too_much(edge_length(at.edge))
    called = phrases.statement.name
    names = bench.numbered("tab", len(edges), called)
    for name, at, partner in zip(names, edges, partners, strict=True):
        assert at.panel is not None
        meets = (partner.panel, partner.edge.name) if partner and partner.panel else None
        panel = grown(
            name,
            "tab",
            at.edge,
            depth,
            phrases.span,
            taper_start=taper.mm,
            taper_end=taper.mm,
            meets=meets,
        )
        draft.panels[name] = panel
        draft.folds[name] = fold_on(at.edge, at.panel, name, bend, angle, phrases.span)
        bench.tabs.append(TabPlan(name, at.edge, depth, taper.mm, meets))


_Mated = tuple[tuple[Place, ...], list[AtEdge], list[AtEdge | None] | None]


def _edges(bench: Bench, phrases: Phrases) -> _Mated:
    """The edges that tabs grow from; with ``between`` also those that they meet."""
    around = phrases.places("between")
    if around:
        pairs = mated(bench.draft, [at.panel for at in bench.panels(around)])
        if not pairs:
            raise refuse(
                "wrong-place",
                "no two of these panels lie side by side with a gap between them that a tab "
                "could close",
                around[0].span,
            )
        return around, [a for a, _ in pairs], [b for _, b in pairs]
    places = phrases.places("on")
    if not places:
        raise phrases.missing("its edge", "tab on left of wall, 12 mm deep, mountain")
    return places, bench.edges(places), None


def _partners(bench: Bench, phrases: Phrases, count: int) -> list[AtEdge | None]:
    """The edge that each tab meets; lists pair in order, one edge serves all."""
    places = phrases.places("meets")
    if not places:
        return [None] * count
    found: list[AtEdge | None] = list(bench.edges(places))
    if len(found) == 1:
        return found * count
    if len(found) != count:
        raise refuse(
            "lists-differ",
            f"{count} tabs, but {len(found)} edges to meet; lists pair in order",
            places[0].span,
            numbers=(("tabs", float(count)), ("edges", float(len(found)))),
        )
    return found


def finish(bench: Bench) -> None:
    """Draws in tabs that share a corner, once all tabs of the piece are known."""
    for plan in bench.tabs:
        start = end = plan.taper_mm
        for other in bench.tabs:
            if other is plan:
                continue
            at_start = corner_taper(plan.edge, other.edge, plan.depth_mm, at_start=True)
            at_end = corner_taper(plan.edge, other.edge, plan.depth_mm, at_start=False)
            start = max(start, at_start or 0.0)
            end = max(end, at_end or 0.0)
        depth = plan.depth_mm
        room = edge_length(plan.edge)
        if start + end > room:
            # The two mitres meet before the full depth: the tab ends in a point there.
            depth *= room / (start + end)
            start, end = start * room / (start + end), end * room / (start + end)
        if (start, end) == (plan.taper_mm, plan.taper_mm):
            continue
        old = bench.draft.panels[plan.name]
        bench.draft.panels[plan.name] = grown(
            plan.name,
            "tab",
            plan.edge,
            depth,
            old.span,
            taper_start=start,
            taper_end=end,
            meets=plan.meets,
        )


KIND = StatementKind("tab", Phase.TABS, run)
