"""``divide along 200 mm right of left, 12 mm tab``: where the piece may be cut in two."""

from __future__ import annotations

from publisher.model.bench import Bench
from publisher.model.division import Division
from publisher.model.findings import refuse
from publisher.model.shaping.dividing import sides_of
from publisher.model.statements.kinds import Phase, StatementKind
from publisher.model.statements.lines import lines_along
from publisher.model.statements.phrases import Phrases

_EXAMPLE = "divide along 200 mm right of left, 12 mm tab"


def run(bench: Bench, phrases: Phrases) -> None:
    draft = bench.draft
    wide = phrases.labelled("tab")
    if wide is None:
        raise phrases.missing("how wide the tab is", _EXAMPLE)
    tab_mm = bench.positive(bench.value(wide), "tab")
    drawn = lines_along(bench, phrases)
    if not drawn:
        raise phrases.missing("where it runs", _EXAMPLE)
    assert draft.paper is not None
    found = []
    for line in drawn:
        division = Division(line.start, line.end, tab_mm, phrases.span)
        first, second = sides_of(draft.paper, division)
        if len(first) != 1 or len(second) != 1:
            raise refuse(
                "wrong-place",
                "a line along which a piece is divided leaves two parts, and this one leaves "
                f"{len(first) + len(second)}",
                line.span,
                numbers=(("parts", float(len(first) + len(second))),),
            )
        found.append(division)
    draft.divisions.extend(found)


KIND = StatementKind("divide", Phase.LINES, run)
