"""``panel wall, on bottom of base, 40 mm deep, mountain by 90 degrees``: first, or grown."""

from __future__ import annotations

from publisher.language.ast import Name, Place, Ref, Segment, Statement
from publisher.model.bench import Bench
from publisher.model.findings import refuse
from publisher.model.shaping.panels import edge_length, fold_on, grown, rectangle, stretch
from publisher.model.statements.folding import bend_and_angle
from publisher.model.statements.kinds import Phase, StatementKind
from publisher.model.statements.phrases import Phrases, flat_places
from publisher.model.statements.sizes import read_size
from publisher.model.statements.taper import read_taper
from publisher.model.types import Fold, Panel


def run(bench: Bench, phrases: Phrases) -> None:
    draft, name = bench.draft, phrases.statement.name
    if name is None:
        raise phrases.missing("its name", "panel wall, on bottom of base, 40 mm deep, mountain")
    places = phrases.places("on")
    if not places:
        _first(bench, phrases, name)
        return
    edges = bench.edges(places)
    labels = bench.numbered(name.text, len(edges), name)
    deep = phrases.labelled("deep")
    if deep is None:
        raise phrases.missing("how deep it is", "40 mm deep")
    depth = bench.positive(bench.value(deep), "depth")
    wide = phrases.labelled("wide")
    width = bench.positive(bench.value(wide), "width") if wide is not None else None
    taper = read_taper(bench, phrases, depth)
    bend, angle = bend_and_angle(bench, phrases)
    made: list[tuple[Panel, Fold]] = []
    for label, at in zip(labels, edges, strict=True):
        if at.panel is None:
            raise refuse("wrong-place", "a panel grows from the edge of one panel", places[0].span)
        room = edge_length(at.edge)
        if wide is not None and width is not None and width > room + 1e-9:
            raise refuse(
                "too-wide",
                f"{label} is wider than the edge that it grows from",
                wide.span,
                numbers=(("width_mm", width), ("edge_mm", room)),
            )
        edge = stretch(at.edge, width)
        if 2 * taper.mm > edge_length(edge) + 1e-9:
            raise taper.too_much(edge_length(edge))
        panel = grown(
            label,
            "panel",
            edge,
            depth,
            phrases.span,
            taper_start=taper.mm,
            taper_end=taper.mm,
        )
        made.append((panel, fold_on(edge, at.panel, label, bend, angle, phrases.span)))
    draft.panels.update({panel.name: panel for panel, _ in made})
    draft.folds.update({fold.name: fold for _, fold in made})


def _first(bench: Bench, phrases: Phrases, name: Name) -> None:
    draft = bench.draft
    if draft.panels:
        raise refuse(
            "missing-phrase",
            f"where does {name.text} grow? {draft.name} already has its first panel",
            name.span,
            notes=("Write for example ‘on bottom of base’",),
        )
    bench.claim(name)
    width, height = read_size(bench, phrases, "panel", f"panel {name.text}, 60 x 40 mm")
    draft.panels[name.text] = rectangle(name.text, 0.0, 0.0, width, height, phrases.span)


def names(statement: Statement) -> tuple[Name, ...]:
    name = statement.name
    if name is None:
        return ()
    places = flat_places([p for prep in statement.preps("on") for p in prep.places])
    if any(s.kind == "each" for p in places for s in _segments(p)):
        return ()  # how many there will be is not known before they are looked for
    if len(places) < 2:
        return (name,)
    return tuple(Name(f"{name.text} {i}", name.span) for i in range(1, len(places) + 1))


def _segments(place: Place) -> tuple[Segment, ...]:
    return place.segments if isinstance(place, Ref) else ()


KIND = StatementKind("panel", Phase.PAPER, run, names)
