"""The checks that take their time, with both hands."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import TypeAlias

from msgspec.structs import replace

from publisher.checks.types import CheckResult
from publisher.trade import Trade
from publisher.workshop.outcome import Outcome
from publisher.workshop.workers import Hands, second_hands, shared

Results: TypeAlias = tuple[CheckResult, ...]


def begin_corners(outcome: Outcome, trade: Trade, hands: Hands) -> Callable[[], Results]:
    """Begin to try the ends of all ranges, and give what waits for the results: no bundle
    leaves that does not fit there."""
    if outcome.failed or outcome.pattern is None or outcome.program is None:
        return tuple
    from publisher.checks.thorough import begin_ranges  # a plain check has no use for it

    share = partial(shared, hands)
    return begin_ranges(outcome.program, outcome.pattern, trade, 0, share)


def with_chosen_marks(outcome: Outcome, trade: Trade) -> Outcome:
    """The same, lengths printed on such marks of a ruler that the fits hold for a maker with one
    (``publisher.checks.rulers``); most patterns print the nearest everywhere."""
    pattern, story, program = outcome.pattern, outcome.story, outcome.program
    if outcome.failed or pattern is None or story is None or program is None:
        return outcome
    from publisher.checks.context import Context
    from publisher.checks.own import own_trade
    from publisher.checks.ruler_marks import choices
    from publisher.model import build_pattern

    context = Context(pattern, story, own_trade(pattern, trade))
    chosen = choices(pattern, outcome.checks, context)
    if not chosen:
        return outcome
    spoken, _ = build_pattern(program, trade, outcome.name, (), chosen)
    if spoken is None:
        return outcome
    return replace(outcome, pattern=replace(pattern, meta=spoken.meta, body=spoken.body))


def with_verdicts(outcome: Outcome, trade: Trade) -> Outcome:
    """The same with whether makers succeed, by machine, by hand and by a ruler: what a proof sheet
    tells beside the checks, and takes no sweep."""
    pattern, story = outcome.pattern, outcome.story
    if outcome.failed or pattern is None or story is None:
        return outcome
    from publisher.checks.context import Context
    from publisher.checks.making_verdicts import making_verdicts
    from publisher.checks.own import CODE, own_trade, waived
    from publisher.checks.ruler_verdicts import ruler_verdicts

    context = Context(pattern, story, own_trade(pattern, trade))
    found = waived(pattern, (*making_verdicts(context), *ruler_verdicts(context)))
    # Whether every waiver is needed is not asked of these few.
    return with_results(outcome, tuple(r for r in found if r.code != CODE))


def thoroughly(outcome: Outcome, trade: Trade) -> Outcome:
    """The same with what ranges, tolerances, rulers and papers had to say; a pattern that fails
    as it is written is not looked at again."""
    pattern, story, program = outcome.pattern, outcome.story, outcome.program
    if outcome.failed or pattern is None or story is None or program is None:
        return outcome
    from publisher.checks.thorough import run_thorough

    with second_hands() as hands:
        results = run_thorough(program, pattern, story, trade, partial(shared, hands))
    return with_results(outcome, results)


def with_results(outcome: Outcome, results: Results) -> Outcome:
    """The same with these results of checks, and their findings."""
    told = outcome.told([r.finding for r in results if r.finding is not None])
    return replace(told, checks=(*outcome.checks, *results))
