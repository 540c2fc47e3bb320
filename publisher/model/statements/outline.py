"""``outline rectangle, 60 x 40 mm``: a piece of one shape."""

from __future__ import annotations

from publisher.model.bench import Bench
from publisher.model.findings import refuse
from publisher.model.shaping.panels import rectangle
from publisher.model.statements.kinds import Phase, StatementKind
from publisher.model.statements.phrases import Phrases
from publisher.model.statements.sizes import read_size


def run(bench: Bench, phrases: Phrases) -> None:
    draft = bench.draft
    if draft.panels:
        first = next(iter(draft.panels.values()))
        raise refuse(
            "two-outlines",
            f"{draft.name} already has paper, from line {first.span.line}",
            phrases.statement.head_span,
            notes=("A piece is one outline, or a chain of panels, or grown from one panel",),
        )
    if phrases.word("rectangle") is None:
        raise phrases.missing("its shape", "outline rectangle, 60 x 40 mm")
    width, height = read_size(bench, phrases, "outline", "outline rectangle, 60 x 40 mm")
    draft.panels[draft.name] = rectangle(draft.name, 0.0, 0.0, width, height, phrases.span)


KIND = StatementKind("outline", Phase.PAPER, run)
