"""``score along 2 in right of left, mountain`` makes a fold, ``score from A to B by 20 mm`` a
curved one; ``score between upper and lower, called gutter`` gives a fold that is already there a
name of its own.

``double, 3 mm apart`` makes two of each, for a spine: each takes half of the angle. ``2 mm
short`` stops a score so far before a raw edge.
"""

from __future__ import annotations

from publisher.geometry.booleans import clip_path
from publisher.geometry.path import Arc, Path, Segment
from publisher.geometry.segments import point_at
from publisher.language.ast import Name
from publisher.model.bench import Bench
from publisher.model.findings import refuse
from publisher.model.statements.artwork import placed_lines
from publisher.model.statements.folding import bend_and_angle
from publisher.model.statements.kinds import Phase, StatementKind
from publisher.model.statements.lines import Drawn, lines_along
from publisher.model.statements.paths import read_path, says_a_path
from publisher.model.statements.phrases import Phrases
from publisher.model.types import Bend, Fold, Score

_EXAMPLE = "score along 20 mm below top of flap, valley"


def run(bench: Bench, phrases: Phrases) -> None:
    between = phrases.places("between")
    called = phrases.statement.name
    said = phrases.labelled("short")
    short = bench.positive(bench.value(said), "distance from the edge") if said else 0.0
    if between:
        panels = [at.panel.name for at in bench.panels(between)]
        _name_fold(bench, panels, called, phrases, short)
        return
    if phrases.word("artwork") is not None:
        _score_artwork(bench, phrases)
        return
    beside = _beside(bench, phrases)
    drawn = lines_along(bench, phrases, beside)
    if drawn:
        bend, angle = bend_and_angle(bench, phrases)
        _add_folds(bench, phrases, drawn, bend, angle / len(beside), short)
        return
    if not says_a_path(phrases):
        raise phrases.missing("where it runs", _EXAMPLE)
    if len(beside) > 1:
        raise refuse(
            "wrong-place",
            "a double score runs along a line: ‘score along …, double’",
            phrases.word_span("double"),
        )
    path = read_path(bench, phrases, closed=False)
    bend, angle = bend_and_angle(bench, phrases)
    if any(isinstance(s, Arc) for s in path.segments):
        parts = _on_paper(bench, phrases, [path])
        names = bench.numbered("score", len(parts), phrases.statement.name)
        _add_curves(bench, phrases, parts, bend, names)
    else:
        lines = [_drawn(bench, s, phrases) for s in path.segments]
        _add_folds(bench, phrases, lines, bend, angle, short)


def _score_artwork(bench: Bench, phrases: Phrases) -> None:
    """Straight lines of a drawing are folds, others curved scores."""
    bend, angle = bend_and_angle(bench, phrases)
    straight: list[Drawn] = []
    curved: list[Path] = []
    for path, _ in placed_lines(bench, phrases):
        if any(isinstance(s, Arc) for s in path.segments):
            curved.append(path)
        else:
            straight += [_drawn(bench, s, phrases) for s in path.segments]
    parts = _on_paper(bench, phrases, curved) if curved else []
    count = len(straight) + len(parts)
    names = bench.numbered("score", count, phrases.statement.name)
    _add_folds(bench, phrases, straight, bend, angle, 0.0, names)
    _add_curves(bench, phrases, parts, bend, names[len(straight) :])


def _beside(bench: Bench, phrases: Phrases) -> tuple[float, ...]:
    """Where the lines of a double score lie beside the one that is named."""
    if phrases.word("double") is None:
        return (0.0,)
    apart = phrases.labelled("apart")
    if apart is None:
        raise phrases.missing(
            "how far apart the two are", "score along middle, double, 3 mm apart, mountain"
        )
    half = bench.positive(bench.value(apart), "distance apart") / 2.0
    return (-half, half)


def _drawn(bench: Bench, segment: Segment, phrases: Phrases) -> Drawn:
    panel = bench.panel_at(point_at(segment, 0.5))
    return Drawn(segment.start, segment.end, panel, phrases.span)


def _add_folds(
    bench: Bench,
    phrases: Phrases,
    drawn: list[Drawn],
    bend: Bend,
    angle: float,
    short: float,
    names: list[str] | None = None,
) -> None:
    draft = bench.draft
    if names is None:
        names = bench.numbered("score", len(drawn), phrases.statement.name)
    for name, line in zip(names, drawn, strict=False):
        panel = line.panel or next(iter(draft.panels))
        draft.folds[name] = Fold(
            name, line.start, line.end, bend, angle, panel, panel, phrases.span
        )
        if short:
            draft.short[name] = short


def _on_paper(bench: Bench, phrases: Phrases, paths: list[Path]) -> list[Path]:
    paper = bench.draft.paper
    assert paper is not None
    parts = [part for path in paths for part in clip_path(path, paper)]
    if not parts:
        raise refuse("line-off-paper", "this line does not run through the paper", phrases.span)
    return parts


def _add_curves(
    bench: Bench, phrases: Phrases, parts: list[Path], bend: Bend, names: list[str]
) -> None:
    draft = bench.draft
    for name, part in zip(names, parts, strict=True):
        draft.curves.append(Score(name, part, bend, None, phrases.span))


def _name_fold(
    bench: Bench, panels: list[str], called: Name | None, phrases: Phrases, short: float
) -> None:
    draft = bench.draft
    for fold in draft.folds.values():
        if len(panels) == 2 and {fold.parent, fold.child} == set(panels):
            if called is not None:
                bench.claim(called)
                draft.fold_names[called.text] = fold.name
            if short:
                draft.short[fold.name] = short
            return
    raise refuse(
        "no-fold-there",
        "there is no fold between these two",
        phrases.statement.head_span,
        notes=("To score a new line, say where: ‘score along …’",),
    )


KIND = StatementKind("score", Phase.LINES, run)
