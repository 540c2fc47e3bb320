"""``row along 30 mm above bottom of front: door = 22 mm, 3 of pane``: points for things of several
sizes, side by side with equal gaps."""

from __future__ import annotations

from publisher.language.ast import Name
from publisher.model.bench import Bench
from publisher.model.draft import NamedPoint
from publisher.model.statements.along import ruled, spread
from publisher.model.statements.kinds import Phase, StatementKind
from publisher.model.statements.panels import measured_items
from publisher.model.statements.phrases import Phrases

_EXAMPLE = "row along 30 mm above bottom of front: door = 22 mm, 3 of pane"


def run(bench: Bench, phrases: Phrases) -> None:
    if not phrases.statement.preps("along"):
        raise phrases.missing("the line that they stand along", _EXAMPLE)
    items = measured_items(bench, phrases.statement)
    if not items:
        raise phrases.missing("what stands in it, after a colon", _EXAMPLE)
    for name, _, span in items:
        bench.claim(Name(name, span))
    line, edge = ruled(bench, phrases)
    middles = spread(bench, phrases, line, [mm for _, mm, _ in items])
    for (name, _, span), mm in zip(items, middles, strict=True):
        bench.draft.points[name] = NamedPoint(line.at(mm), edge, line.panel, span)


KIND = StatementKind("row", Phase.NAMES, run)
