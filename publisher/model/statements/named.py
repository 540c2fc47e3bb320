"""``point thumb, at 1/3 of the way along top of pocket`` and ``edge mouth, along top of pocket``:
names for places, to be spoken of in other lines."""

from __future__ import annotations

from publisher.model.bench import Bench
from publisher.model.draft import NamedEdge, NamedLine, NamedPoint
from publisher.model.findings import refuse
from publisher.model.places.things import AtEdge, AtLine, AtPoint, kind_of
from publisher.model.statements.kinds import Phase, StatementKind
from publisher.model.statements.phrases import Phrases


def run_point(bench: Bench, phrases: Phrases) -> None:
    name = phrases.statement.name
    places = phrases.places("at")
    if name is None or not places:
        raise phrases.missing("its name and where it is", "point thumb, at middle of top of pocket")
    bench.claim(name)
    things = bench.things(places)
    thing = things[0]
    if len(things) != 1 or not isinstance(thing, AtPoint):
        raise refuse("wrong-place", "one point is wanted here", places[0].span)
    bench.draft.points[name.text] = NamedPoint(thing.at, thing.edge, thing.panel, name.span)


def run_edge(bench: Bench, phrases: Phrases) -> None:
    name = phrases.statement.name
    places = phrases.places("along")
    if name is None or not places:
        raise phrases.missing("its name and where it runs", "edge mouth, along top of pocket")
    bench.claim(name)
    things = bench.things(places)
    thing = things[0]
    if len(things) != 1:
        raise refuse("wrong-place", "one edge is wanted here", places[0].span)
    if isinstance(thing, AtEdge):
        bench.draft.edges[name.text] = NamedEdge(thing.edge, thing.panel, name.span)
    elif isinstance(thing, AtLine):
        bench.draft.lines[name.text] = NamedLine(thing.start, thing.end, thing.panel, name.span)
    else:
        raise refuse(
            "wrong-place", f"an edge is wanted here, and this is {kind_of(thing)}", places[0].span
        )


POINT = StatementKind("point", Phase.NAMES, run_point)
EDGE = StatementKind("edge", Phase.NAMES, run_edge)
