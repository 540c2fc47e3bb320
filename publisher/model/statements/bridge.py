"""``bridge 2 mm wide, out from each tip of each star``: strips that hold islands."""

from __future__ import annotations

from publisher.geometry.path import Region
from publisher.model.bench import Bench
from publisher.model.findings import refuse
from publisher.model.places.things import AtPoint, kind_of
from publisher.model.shaping.bridges import bridge_at
from publisher.model.statements.kinds import Phase, StatementKind
from publisher.model.statements.phrases import Phrases
from publisher.model.types import Bridge

_EXAMPLE = "bridge 2 mm wide, out from each tip of star"


def run(bench: Bench, phrases: Phrases) -> None:
    draft = bench.draft
    wide = phrases.labelled("wide") or phrases.bare()
    if wide is None:
        raise phrases.missing("how wide it is", _EXAMPLE)
    width = bench.positive(bench.value(wide), "width")
    places = phrases.places("out from")
    if not places:
        raise phrases.missing("where it starts", _EXAMPLE)
    islands = {i.name: i for i in draft.islands}
    windows = {o.name: o for o in draft.openings}
    starts = bench.things(places)
    names = bench.numbered("bridge", len(starts), phrases.statement.name)
    found: list[Bridge] = []
    for name, thing in zip(names, starts, strict=True):
        if not isinstance(thing, AtPoint) or thing.out is None or thing.island not in islands:
            raise refuse(
                "wrong-place",
                f"a bridge runs out from a tip or a side of an island, not from {kind_of(thing)}",
                places[0].span,
                notes=(f"Write for example ‘{_EXAMPLE}’",),
            )
        island = islands[thing.island]
        window = Region(windows[island.opening].path)
        strip = bridge_at(thing.at, thing.out, width, island.region, window)
        if strip is None:
            raise refuse(
                "bridge-too-wide",
                f"{island.name} is nowhere as wide as this bridge",
                wide.span,
                numbers=(("width_mm", width),),
            )
        long = strip.back_mm + strip.front_mm
        found.append(Bridge(name, island.name, width, long, strip.region, phrases.span))
    draft.bridges.extend(found)


KIND = StatementKind("bridge", Phase.BRIDGES, run)
