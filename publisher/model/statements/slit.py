"""``slit 40 mm long, across, at middle of pocket``, or ``slit along 9 mm above fold``."""

from __future__ import annotations

from publisher.geometry.booleans import clip_path
from publisher.geometry.path import Line, Path, Point
from publisher.model.bench import Bench
from publisher.model.findings import refuse
from publisher.model.places.things import AtPoint
from publisher.model.statements.kinds import Phase, StatementKind
from publisher.model.statements.lines import Drawn, lines_along
from publisher.model.statements.phrases import Phrases
from publisher.model.types import Opening

_EXAMPLE = "slit 40 mm long, across, at middle of pocket"


def run(bench: Bench, phrases: Phrases) -> None:
    draft = bench.draft
    long = phrases.labelled("long")
    if long is not None:
        drawn = _at_points(bench, phrases, bench.positive(bench.value(long), "length"))
    else:
        drawn = lines_along(bench, phrases)
    if not drawn:
        raise phrases.missing("where it runs", _EXAMPLE)
    names = bench.numbered("slit", len(drawn), phrases.statement.name)
    assert draft.paper is not None
    cut: list[Opening] = []
    for name, line in zip(names, drawn, strict=True):
        path = Path((Line(line.start, line.end),), closed=False)
        inside = sum(p.length_mm for p in clip_path(path, draft.paper))
        if abs(inside - path.length_mm) > 1e-6:
            raise refuse("slit-leaves-paper", "the slit runs beyond the paper", line.span)
        cut.append(
            Opening(name, "slit", "line", path, line.panel, path.length_mm, 0.0, phrases.span)
        )
    draft.openings.extend(cut)


def _at_points(bench: Bench, phrases: Phrases, length: float) -> list[Drawn]:
    word = phrases.word("across", "down")
    if word is None:
        raise phrases.missing("which way it runs (across or down)", _EXAMPLE)
    places = phrases.places("at")
    if not places:
        raise phrases.missing("where it is", _EXAMPLE)
    half = length / 2.0
    dx, dy = (half, 0.0) if word == "across" else (0.0, half)
    drawn = []
    for thing in bench.things(places):
        if not isinstance(thing, AtPoint):
            raise refuse("wrong-place", "a point is wanted here", places[0].span)
        (x, y) = thing.at
        a: Point = (x - dx, y - dy)
        b: Point = (x + dx, y + dy)
        panel = thing.panel or bench.panel_at(thing.at)
        drawn.append(Drawn(a, b, panel, places[0].span))
    return drawn


KIND = StatementKind("slit", Phase.LINES, run)
