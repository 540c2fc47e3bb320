"""``band down, around drawer when closed, 30 mm wide, 12 mm overlap, 1 mm ease``.

A strip round a closed thing: four panels, folded mountain by 90 degrees, and a tab called
``overlap`` that is glued inside the first panel. The panels come from the closed body's
outside and the ease, which is what is free in each direction in all.
"""

from __future__ import annotations

from typing import Literal

from publisher.language.ast import Name, Ref, Statement
from publisher.model.bench import Bench
from publisher.model.findings import refuse
from publisher.model.shaping.bands import band_plan
from publisher.model.shaping.panels import chain, fold_on, grown
from publisher.model.statements.kinds import Phase, StatementKind
from publisher.model.statements.phrases import Phrases, flat_places
from publisher.model.types import BandOf, Bend

_EXAMPLE = "band down, around drawer when closed, 30 mm wide, 12 mm overlap, 1 mm ease"
_BEND: Bend = "mountain"
_ANGLE_DEG = 90.0


def run(bench: Bench, phrases: Phrases) -> None:
    draft = bench.draft
    if draft.panels:
        raise refuse("two-outlines", f"{draft.name} already has paper", phrases.statement.head_span)
    word = phrases.word("across", "down")
    if word is None:
        raise phrases.missing("which way it goes round (across or down)", _EXAMPLE)
    direction: Literal["across", "down"] = "down" if word == "down" else "across"
    around = phrases.prep("around")
    if around is None:
        raise phrases.missing("what it goes round", _EXAMPLE)
    place = flat_places(around.places)[0]
    if not isinstance(place, Ref) or len(place.segments) != 1:
        raise refuse("wrong-place", "a band goes round a whole piece", place.span)
    body = place.segments[0]
    if body.name == draft.name:
        raise refuse("goes-in-a-circle", f"{draft.name} cannot go round itself", body.span)
    states = place.states or ("closed",)
    body_mm = bench.shop.filled_size(body.name, states, body.span)
    wide = phrases.labelled("wide")
    if wide is None:
        raise phrases.missing("how wide it is", _EXAMPLE)
    width = bench.positive(bench.value(wide), "width")
    lap = phrases.labelled("overlap")
    if lap is None:
        raise phrases.missing("how far it overlaps", _EXAMPLE)
    overlap = bench.positive(bench.value(lap), "overlap")
    loose = phrases.labelled("ease", "play")
    ease = bench.length(bench.value(loose)) if loose is not None else 0.0
    said = f"{body.name} when {' and '.join(states)}"
    plan = band_plan(said, body_mm, direction, ease, overlap)
    for length in plan.lengths:
        if length <= 0 and loose is not None:
            raise bench.not_positive(length, loose.span, "length of a panel")
    _build(bench, phrases, direction, plan.lengths, width, overlap)
    draft.derived = BandOf(
        body.name,
        tuple(states),
        direction,
        body_mm,
        ease,
        plan.loop_mm,
        overlap,
        plan.terms,
    )


def _build(
    bench: Bench,
    phrases: Phrases,
    direction: Literal["across", "down"],
    lengths: tuple[float, ...],
    width: float,
    overlap: float,
) -> None:
    draft, span = bench.draft, phrases.span
    names = [f"panel {i + 1}" for i in range(len(lengths))]
    panels, folds = chain(
        names, lengths, width, direction, [_BEND] * 3, _ANGLE_DEG, [span] * len(lengths)
    )
    draft.panels.update({p.name: p for p in panels})
    draft.folds.update({f.name: f for f in folds})
    if overlap:
        last, first = ("bottom", "top") if direction == "down" else ("right", "left")
        edge = panels[-1].edge(last)
        draft.panels["overlap"] = grown(
            "overlap", "tab", edge, overlap, span, meets=(names[0], first)
        )
        draft.folds["overlap"] = fold_on(edge, names[-1], "overlap", _BEND, _ANGLE_DEG, span)


def names(statement: Statement) -> tuple[Name, ...]:
    said = ["panel 1", "panel 2", "panel 3", "panel 4", "overlap"]
    return tuple(Name(text, statement.head_span) for text in said)


KIND = StatementKind("band", Phase.PAPER, run, names)
