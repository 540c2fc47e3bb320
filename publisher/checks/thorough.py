"""All that takes longer than a check may: ranges, tolerances, rulers, papers and their grain."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from publisher.assembly.types import Story
from publisher.checks.context import Context
from publisher.checks.making_verdicts import making_verdicts
from publisher.checks.own import own_trade, waived
from publisher.checks.papers import accepted
from publisher.checks.ranges import SEARCH_SHARE, Sweep, points, tried
from publisher.checks.rulers import ruler_verdicts
from publisher.checks.rules import grain
from publisher.checks.run import run_made
from publisher.checks.small_parts import small_parts
from publisher.checks.types import CheckResult
from publisher.language.program import Program
from publisher.model.types import Pattern
from publisher.trade import Trade

COMBINATIONS = 200
"""How many combinations of sizes a sweep tries."""

Hands = Callable[..., Callable[[], Any]]
"""Takes a function of a module and its arguments, and gives what waits for its result."""


def own_hands(work: Callable[..., Any], *args: Any) -> Callable[[], Any]:
    """No second process: the work is done when its result is asked for."""
    return lambda: work(*args)


def over_ranges(
    program: Program,
    pattern: Pattern,
    trade: Trade,
    count: int = COMBINATIONS,
    hands: Hands = own_hands,
) -> tuple[CheckResult, ...]:
    """The sweep over the sizes that have ranges, half of it by other hands; nothing where no
    size has one."""
    sweep = Sweep(program, pattern, trade, run_made)
    if not sweep.sizes:
        return ()
    some = points(sweep.sizes, count)
    search = int(count * SEARCH_SHARE)
    # The search follows on what both have found; so that they end together, fewer here.
    mine = max(1, (len(some) - search) // 2)
    other = hands(tried, program, trade, run_made, some[mine:])
    sweep.take(tried(program, trade, run_made, some[:mine]))
    sweep.take(other())
    sweep.search(search)
    return sweep.results()


def run_thorough(
    program: Program, pattern: Pattern, story: Story, trade: Trade, hands: Hands = own_hands
) -> tuple[CheckResult, ...]:
    """Results in this order: grain, small parts, tolerances, rulers, papers, ranges."""
    context = Context(pattern, story, own_trade(pattern, trade))
    found = (
        *grain.check(context),
        *small_parts(context),
        *making_verdicts(context),
        *ruler_verdicts(context),
        accepted(program, pattern, trade, run_made),
        *over_ranges(program, pattern, trade, hands=hands),
    )
    return waived(pattern, found, thorough=True)
