"""``panels down, 140 mm wide, mountain: pocket, back, hem = 9 mm``: a chain with its folds, all
one way, or turn by turn with ``mountain, valley``."""

from __future__ import annotations

from typing import Literal

from publisher.diagnostics import Span
from publisher.language.ast import Item, Name, Ref, Segment, Statement
from publisher.language.ast import Literal as Figure
from publisher.model.bench import Bench
from publisher.model.findings import refuse, taken
from publisher.model.shaping.panels import chain
from publisher.model.statements.folding import bend_and_angle
from publisher.model.statements.kinds import Phase, StatementKind
from publisher.model.statements.phrases import Phrases
from publisher.model.types import Bend


def run(bench: Bench, phrases: Phrases) -> None:
    draft = bench.draft
    if draft.panels:
        raise refuse(
            "two-outlines",
            f"{draft.name} already has paper; a chain begins a piece",
            phrases.statement.head_span,
        )
    word = phrases.word("across", "down")
    if word is None:
        raise phrases.missing("which way it runs", "panels down, 140 mm wide, mountain: …")
    direction: Literal["across", "down"] = "down" if word == "down" else "across"
    # A chain that runs down is so wide; one that runs across is so high.
    label = "wide" if direction == "down" else "high"
    size = phrases.labelled(label) or phrases.bare()
    if size is None:
        raise phrases.missing(f"how {label} it is", f"panels {direction}, 140 mm {label}, …")
    cross = bench.positive(
        bench.value(size), label.replace("wide", "width").replace("high", "height")
    )
    bend, angle = bend_and_angle(bench, phrases)
    bends = [bend, *_more_bends(phrases)]
    listed = measured_items(bench, phrases.statement)
    if not listed:
        raise phrases.missing("its panels", "panels down, 140 mm wide, mountain: pocket, back")
    seen: dict[str, Span] = {}
    for name, _, span in listed:
        if name in seen:
            raise taken(name, span, seen[name], "a panel of this piece")
        seen[name] = span
    panels, folds = chain(
        [n for n, _, _ in listed],
        [mm for _, mm, _ in listed],
        cross,
        direction,
        [bends[i % len(bends)] for i in range(len(listed) - 1)],
        angle,
        [s for _, _, s in listed],
    )
    draft.panels.update({p.name: p for p in panels})
    draft.folds.update({f.name: f for f in folds})


def _more_bends(phrases: Phrases) -> list[Bend]:
    """``mountain, valley``: the folds turn by turn."""
    said = phrases.all_words("mountain", "valley")
    return ["mountain" if word == "mountain" else "valley" for word in said]


def measured_items(bench: Bench, statement: Statement) -> list[tuple[str, float, Span]]:
    """Each item's name and length in mm; ``3 of pane`` is three of them, numbered."""
    found: list[tuple[str, float, Span]] = []
    for item in statement.items:
        value = item.value or Ref(
            (Segment("name", item.name.text, item.name.span),), (), item.name.span
        )
        length = bench.positive(value, f"length of {item.name.text}")
        if item.count is None:
            found.append((item.name.text, length, item.span))
            continue
        count = _count(bench, item)
        for i in range(1, count + 1):
            found.append((f"{item.name.text} {i}", length, item.span))
    return found


MOST_PANELS = 200
"""More panels than any folded strip needs; it keeps a slip from filling the memory."""


def _count(bench: Bench, item: Item) -> int:
    assert item.count is not None
    count = bench.share(item.count)
    if count != int(count) or not 1 <= count <= MOST_PANELS:
        raise refuse(
            "wrong-count",
            f"a count is a whole number from 1 to {MOST_PANELS}, not {count:g}",
            item.count.span,
        )
    return int(count)


def names(statement: Statement) -> tuple[Name, ...]:
    found: list[Name] = []
    for item in statement.items:
        if item.count is None:
            found.append(item.name)
        elif isinstance(item.count, Figure) and 1 <= item.count.value <= MOST_PANELS:
            text, span = item.name.text, item.name.span
            found.extend(Name(f"{text} {i}", span) for i in range(1, int(item.count.value) + 1))
    return tuple(found)


KIND = StatementKind("panels", Phase.PAPER, run, names)
