"""How often: ``5 times``."""

from __future__ import annotations

import math

from publisher.language.ast import Expr
from publisher.model.bench import Bench
from publisher.model.findings import refuse
from publisher.model.statements.phrases import Phrases

MOST_TIMES = 100


def times_said(bench: Bench, phrases: Phrases) -> int:
    """The count of the line's ``times``."""
    said = phrases.labelled("times")
    if said is None:
        raise phrases.missing("how many there are", "5 times, evenly, along …")
    return times(bench, bench.value(said))


def times(bench: Bench, value: Expr) -> int:
    """A whole number of times, at least one."""
    count = bench.share(value)
    if not math.isfinite(count) or count != int(count) or not 1 <= count <= MOST_TIMES:
        raise refuse(
            "wrong-count",
            f"‘times’ is a whole number from 1 to {MOST_TIMES}, not {count:g}",
            value.span,
            numbers=(("times", count),),
        )
    return int(count)
