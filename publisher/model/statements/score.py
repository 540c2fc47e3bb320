"""``score along 2 in right of left, mountain`` makes a fold; ``score between upper and lower,
called gutter`` gives a fold that is already there a name of its own."""

from __future__ import annotations

from publisher.language.ast import Name
from publisher.model.bench import Bench
from publisher.model.findings import refuse
from publisher.model.statements.folding import bend_and_angle
from publisher.model.statements.kinds import Phase, StatementKind
from publisher.model.statements.lines import lines_along
from publisher.model.statements.phrases import Phrases
from publisher.model.types import Fold


def run(bench: Bench, phrases: Phrases) -> None:
    between = phrases.places("between")
    called = phrases.statement.name
    if between:
        panels = [at.panel.name for at in bench.panels(between)]
        _name_fold(bench, panels, called, phrases)
        return
    drawn = lines_along(bench, phrases)
    if not drawn:
        raise phrases.missing("where it runs", "score along 20 mm below top of flap, valley")
    bend, angle = bend_and_angle(bench, phrases)
    draft = bench.draft
    names = bench.numbered("score", len(drawn), called)
    for name, line in zip(names, drawn, strict=True):
        panel = line.panel or next(iter(draft.panels))
        draft.folds[name] = Fold(
            name, line.start, line.end, bend, angle, panel, panel, phrases.span
        )


def _name_fold(bench: Bench, panels: list[str], called: Name | None, phrases: Phrases) -> None:
    draft = bench.draft
    for fold in draft.folds.values():
        if len(panels) == 2 and {fold.parent, fold.child} == set(panels):
            if called is not None:
                bench.claim(called)
                draft.fold_names[called.text] = fold.name
            return
    raise refuse(
        "no-fold-there",
        "there is no fold between these two",
        phrases.statement.head_span,
        notes=("To score a new line, say where: ‘score along …’",),
    )


KIND = StatementKind("score", Phase.LINES, run)
