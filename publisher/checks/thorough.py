"""All that takes longer than a check may: ranges, tolerances, rulers, papers and their grain."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial
from typing import Any

from publisher.assembly.types import Story
from publisher.checks.context import Context
from publisher.checks.making_verdicts import making_verdicts
from publisher.checks.own import own_trade, waived
from publisher.checks.papers import accepted
from publisher.checks.ranges import SEARCH_SHARE, Sweep, points, tried
from publisher.checks.ruler_verdicts import ruler_verdicts
from publisher.checks.rules import grain
from publisher.checks.run import run_made
from publisher.checks.small_parts import small_parts
from publisher.checks.types import CheckResult
from publisher.language.program import Program
from publisher.model.types import Pattern
from publisher.trade import Trade

COMBINATIONS = 200
"""How many combinations of sizes a sweep tries."""

Share = Callable[[Callable[[Any], Any], Sequence[Any]], Callable[[], list[Any]]]
"""Takes a function and what to do it with, begins, and gives what waits for the results."""


def alone(work: Callable[[Any], Any], items: Sequence[Any]) -> Callable[[], list[Any]]:
    """No second process: the work is done when its results are asked for."""
    return lambda: [work(item) for item in items]


def begin_ranges(
    program: Program,
    pattern: Pattern,
    trade: Trade,
    count: int = COMBINATIONS,
    share: Share = alone,
) -> Callable[[], tuple[CheckResult, ...]]:
    """Begin the sweep over the sizes that have ranges, and give what ends it: no results where
    no size has one. A ``count`` of 0 tries the corners alone."""
    sweep = Sweep(program, pattern, trade, run_made)
    if not sweep.sizes:
        return tuple
    one = partial(tried, program, trade, run_made)
    begun = share(one, points(sweep.sizes, count))

    def ended() -> tuple[CheckResult, ...]:
        sweep.take(begun())
        sweep.search(int(count * SEARCH_SHARE), lambda points: share(one, points)())
        return sweep.results()

    return ended


def run_thorough(
    program: Program, pattern: Pattern, story: Story, trade: Trade, share: Share = alone
) -> tuple[CheckResult, ...]:
    """Results in this order: grain, small parts, tolerances, rulers, papers, ranges."""
    ranges = begin_ranges(program, pattern, trade, share=share)
    context = Context(pattern, story, own_trade(pattern, trade))
    found = (
        *grain.check(context),
        *small_parts(context),
        *making_verdicts(context),
        *ruler_verdicts(context),
        accepted(program, pattern, trade, run_made),
        *ranges(),
    )
    return waived(pattern, found, thorough=True)
