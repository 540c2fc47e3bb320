"""``unscored along gutter, from left slit to right slit``: a stretch of a fold left whole."""

from __future__ import annotations

from publisher.model.bench import Bench
from publisher.model.draft import Gap
from publisher.model.findings import refuse
from publisher.model.places.things import AtEdge, AtLine, kind_of
from publisher.model.statements.kinds import Phase, StatementKind
from publisher.model.statements.lines import end_on_line
from publisher.model.statements.phrases import Phrases

_EXAMPLE = "unscored along gutter, from left slit to right slit"


def run(bench: Bench, phrases: Phrases) -> None:
    places = phrases.places("along")
    ends = phrases.from_to()
    if not places:
        raise phrases.missing("along which fold", _EXAMPLE)
    if ends is None:
        raise phrases.missing("from where to where", _EXAMPLE)
    draft = bench.draft
    for thing in bench.things(places):
        if isinstance(thing, AtEdge):
            line = {thing.edge.start, thing.edge.end}
        elif isinstance(thing, AtLine):
            line = {thing.start, thing.end}
        else:
            raise refuse(
                "wrong-place",
                f"a fold is wanted here, and this is {kind_of(thing)}",
                places[0].span,
            )
        fold = next((f for f in draft.folds.values() if {f.start, f.end} == line), None)
        if fold is None:
            raise refuse("no-fold-there", "there is no fold along this", places[0].span)
        a = end_on_line(bench, ends.start, fold.start, fold.end)
        b = end_on_line(bench, ends.end, fold.start, fold.end)
        draft.gaps.append(Gap(fold.name, a, b))


KIND = StatementKind("unscored", Phase.GAPS, run)
