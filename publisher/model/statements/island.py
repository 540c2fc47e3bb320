"""``island star, 5 points, 30 mm across, at middle of each pane``: paper that stays in a window.

It falls out unless bridges hold it; that is looked at when all bridges are there.
"""

from __future__ import annotations

import math

from publisher.diagnostics import Place as Spot
from publisher.diagnostics import Span
from publisher.geometry.booleans import region_difference, region_intersection, region_union
from publisher.geometry.measure import area, path_bounds
from publisher.geometry.path import Region
from publisher.model.bench import Bench
from publisher.model.draft import Draft
from publisher.model.findings import refuse
from publisher.model.shaping.tips import tips_of
from publisher.model.statements.kinds import Phase, StatementKind
from publisher.model.statements.phrases import Phrases
from publisher.model.statements.placed import place_all
from publisher.model.statements.shapes import read_shape
from publisher.model.types import Island, Opening

_EXAMPLE = "island star, 5 points, 30 mm across, at middle of pane"
_DUST_MM2 = 1e-4


def run(bench: Bench, phrases: Phrases) -> None:
    draft = bench.draft
    shape = read_shape(bench, phrases, _EXAMPLE)
    copies, where = place_all(bench, phrases, shape, _EXAMPLE)
    placed = [part for one in copies for part in one.each()]
    names = bench.numbered("island", len(placed), phrases.statement.name)
    found: list[Island] = []
    for name, one in zip(names, placed, strict=True):
        opening = _window_round(draft, one.region, where)
        found.append(
            Island(
                name,
                shape.word,
                one.region,
                opening.name,
                opening.panel,
                tips_of(one.region),
                shape.width_mm,
                shape.height_mm,
                phrases.span,
            )
        )
        for other in (*draft.islands, *found[:-1]):
            if sum(area(r) for r in region_intersection(other.region, one.region)) > _DUST_MM2:
                raise refuse(
                    "island-not-in-window",
                    f"{name} lies on {other.name}",
                    where,
                    Spot(other.span, other.name),
                )
    draft.islands.extend(found)


def _window_round(draft: Draft, region: Region, where: Span) -> Opening:
    """The window that the island lies in, all of it."""
    for opening in draft.openings:
        if opening.kind != "window" or not _within(region, opening):
            continue
        outside = region_difference(Region(region.outer), Region(opening.path))
        if sum(area(r) for r in outside) <= _DUST_MM2:
            return opening
    raise refuse(
        "island-not-in-window",
        "an island lies within one window, and this one does not",
        where,
        notes=("Cut the window first: ‘window rectangle, 40 x 30 mm, at middle’",),
    )


def _within(region: Region, opening: Opening) -> bool:
    """Whether the box of the region lies in that of the opening, as far as dust goes."""
    own, round_it = path_bounds(region.outer), path_bounds(opening.path)
    far = math.sqrt(_DUST_MM2)
    least = all(a >= b - far for a, b in zip(own[:2], round_it[:2], strict=True))
    return least and all(a <= b + far for a, b in zip(own[2:], round_it[2:], strict=True))


def finish(bench: Bench, bridges_stand: bool) -> None:
    """Gives islands and bridges back to the paper; tells of islands that nothing holds, unless
    a bridge was asked for and could not be built."""
    draft = bench.draft
    if not draft.islands or draft.paper is None:
        return
    draft.reshaped = True
    parts = region_union(
        [draft.paper, *(i.region for i in draft.islands), *(b.region for b in draft.bridges)]
    )
    whole = max(parts, key=area)
    draft.paper = whole
    told: set[int] = set()
    for island in draft.islands if len(parts) > 1 else ():
        held = sum(area(r) for r in region_intersection(whole, island.region))
        if not bridges_stand or held > _DUST_MM2 or island.span.start in told:
            continue
        told.add(island.span.start)
        out = (
            f"out from each tip of {island.name}"
            if island.tips
            else f"out from top of {island.name}"
        )
        fault = refuse(
            "island-falls-out",
            f"nothing holds {island.name}: it falls out with its window",
            island.span,
            numbers=(("islands", float(len(draft.islands))),),
            notes=(f"Hold it with a bridge: ‘bridge 2 mm wide, {out}’",),
        )
        if fault.diagnostic is not None:
            bench.reports.append(fault.diagnostic)


KIND = StatementKind("island", Phase.ISLANDS, run)
