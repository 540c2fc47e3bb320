"""``glue along left of pocket, 5 mm wide, on back face``: where adhesive goes."""

from __future__ import annotations

from collections.abc import Sequence

from publisher.diagnostics import Span
from publisher.geometry.booleans import region_intersection
from publisher.geometry.path import Path, Region, polygon
from publisher.language.ast import Place, Ref
from publisher.model.bench import Bench
from publisher.model.findings import refuse
from publisher.model.places.things import AtEdge, AtOpening, AtPanel, Thing, Whole, kind_of
from publisher.model.shaping.glue import reach, strip_along, walked_like
from publisher.model.shaping.paper import holds
from publisher.model.statements.kinds import Phase, StatementKind
from publisher.model.statements.lines import end_on_line
from publisher.model.statements.phrases import Phrases
from publisher.model.statements.sizes import read_size
from publisher.model.statements.spots import spots
from publisher.model.types import Face, GlueZone

_EXAMPLE = "glue along left of pocket, 5 mm wide, on back face"


def run(bench: Bench, phrases: Phrases) -> None:
    face = _face(phrases)
    meets = _meets(bench, phrases)
    along = phrases.places("along")
    if along:
        zones = _strips(bench, phrases, along)
    elif phrases.word("rectangle") is not None:
        zones = _rectangles(bench, phrases)
    else:
        zones = _areas(bench, phrases)
    called = phrases.statement.name
    draft = bench.draft
    if called is None and not along and all(own for _, own, _ in zones):
        names = [own for _, own, _ in zones]
    else:
        names = bench.numbered("glue", len(zones), called)
    partners = _paired(meets, len(zones), phrases.span)
    where = _where(phrases)
    for name, (panel, _, region), partner in zip(names, zones, partners, strict=True):
        draft.glue.append(GlueZone(name, panel, region, face, where, partner))


def _where(phrases: Phrases) -> Span:
    """The words that say where the glue goes: what is wrong with it is told there."""
    for prep in phrases.statement.preps("along", "at", "on"):
        first = prep.places[0]
        if not (isinstance(first, Ref) and first.segments[0].kind == "face"):
            return first.span
    return phrases.span


Zone = tuple[str | None, str, Region]
"""Panel, the zone's own name where it covers a whole panel (else ""), where it is."""


def _face(phrases: Phrases) -> Face:
    said = phrases.face()
    if said is None:
        raise refuse(
            "which-face",
            "on which face? Add ‘on front face’ or ‘on back face’",
            phrases.statement.head_span,
        )
    return said[0]


def _strips(bench: Bench, phrases: Phrases, along: Sequence[Place]) -> list[Zone]:
    wide = phrases.labelled("wide") or phrases.bare()
    if wide is None:
        raise phrases.missing("how wide the glue is", _EXAMPLE)
    width = bench.positive(bench.value(wide), "width")
    zones: list[Zone] = []
    ends = phrases.from_to()
    for at in bench.edges(along):
        if ends is not None:
            start, end = at.edge.start, at.edge.end
            a = end_on_line(bench, ends.start, start, end)
            b = end_on_line(bench, ends.end, start, end)
            at = AtEdge(walked_like(at.edge, a, b), at.panel)
        regions, room = _strip(bench, at, width, whole=ends is None)
        if width > room + 1e-9:
            raise refuse(
                "glue-leaves-panel",
                f"the glue is wider than {at.panel or bench.draft.name}",
                bench.value(wide).span,
                numbers=(("width_mm", width), ("panel_mm", room)),
            )
        zones.extend((at.panel, "", region) for region in regions)
    return zones


def _strip(bench: Bench, at: AtEdge, width: float, whole: bool) -> tuple[tuple[Region, ...], float]:
    draft = bench.draft
    if at.panel is None:
        assert draft.paper is not None
        return strip_along(draft.paper, at.edge, width, whole), width
    panel = draft.panels[at.panel]
    found: list[Region] = []
    for paper in _paper_of(bench, at.panel):  # of a round mat no more than the mat itself
        found.extend(strip_along(paper, at.edge, width, whole))
    return tuple(found), reach(panel, at.edge)


def _areas(bench: Bench, phrases: Phrases) -> list[Zone]:
    places = phrases.places("on")
    if not places:
        raise phrases.missing("where the glue goes", _EXAMPLE)
    zones: list[Zone] = []
    for thing in bench.things(places):
        zones.extend(_area(bench, thing, places[0].span))
    return zones


def _area(bench: Bench, thing: Thing, span: Span) -> list[Zone]:
    draft = bench.draft
    if isinstance(thing, AtPanel):
        name = thing.panel.name
        return [(name, name, region) for region in _paper_of(bench, name)]
    if isinstance(thing, Whole):
        return [(name, name, r) for name in draft.panels for r in _paper_of(bench, name)]
    if isinstance(thing, AtOpening):
        raise refuse("wrong-place", f"there is no paper in {kind_of(thing)}", span)
    raise refuse("wrong-place", f"glue goes on a panel, not on {kind_of(thing)}", span)


def _paper_of(bench: Bench, panel: str) -> tuple[Region, ...]:
    """What is left of a panel; for a derived shape its outline."""
    draft = bench.draft
    assert draft.paper is not None
    if len(draft.panels) == 1:
        return (draft.paper,)
    return draft.left_of_panel(panel)


def _rectangles(bench: Bench, phrases: Phrases) -> list[Zone]:
    example = "glue rectangle, 30 x 46 mm, at middle of label, on back face"
    width, height = read_size(bench, phrases, "glue area", example)
    where = spots(bench, phrases, width, height, example)
    zones: list[Zone] = []
    for (x, y), panel in where.centres:
        left, top = x - width / 2.0, y - height / 2.0
        ring: Path = polygon(
            [(left, top), (left + width, top), (left + width, top + height), (left, top + height)]
        )
        owner = panel or next(iter(bench.draft.panels))
        papers = _paper_of(bench, owner)
        if not any(holds(paper, ring) for paper in papers):
            raise refuse(
                "glue-leaves-panel",
                f"the glue area reaches beyond {owner}",
                where.span,
                numbers=(("width_mm", width), ("height_mm", height)),
            )
        for paper in papers:
            zones.extend((owner, "", r) for r in region_intersection(paper, Region(ring)))
    return zones


def _meets(bench: Bench, phrases: Phrases) -> list[tuple[str, str]]:
    places = phrases.places("meets")
    found: list[tuple[str, str]] = []
    for thing in bench.things(places):
        if isinstance(thing, AtPanel):
            found.append((bench.draft.name, thing.panel.name))
        elif isinstance(thing, AtEdge) and thing.panel is not None:
            found.append((bench.draft.name, thing.panel))
        else:
            raise refuse("wrong-place", f"glue meets a panel, not {kind_of(thing)}", places[0].span)
    return found


def _paired(
    meets: list[tuple[str, str]], count: int, span: Span
) -> Sequence[tuple[str, str] | None]:
    if not meets:
        return [None] * count
    if len(meets) == 1:
        return list(meets) * count
    if len(meets) != count:
        raise refuse(
            "lists-differ",
            f"{count} glue zones, but {len(meets)} panels to meet; lists pair in order",
            span,
        )
    return meets


def finish(bench: Bench) -> None:
    """Every tab that meets an edge is a glue zone on its front face, unless a line said so."""
    draft = bench.draft
    given = {zone.panel for zone in draft.glue}
    for panel in draft.panels.values():
        if panel.meets is None or panel.name in given:
            continue
        for region in draft.left_of_panel(panel.name):
            partner = (draft.name, panel.meets[0])
            draft.glue.append(
                GlueZone(panel.name, panel.name, region, "front", panel.span, partner)
            )


KIND = StatementKind("glue", Phase.GLUE, run)
