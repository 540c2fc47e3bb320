"""The checks that take their time, with both hands."""

from __future__ import annotations

from msgspec.structs import replace

from publisher.checks.thorough import run_thorough
from publisher.trade import Trade
from publisher.workshop.outcome import Outcome
from publisher.workshop.workers import second_hands


def thoroughly(outcome: Outcome, trade: Trade) -> Outcome:
    """The same with what ranges, tolerances, rulers and papers had to say; a pattern that fails
    as it is written is not looked at again."""
    pattern, story, program = outcome.pattern, outcome.story, outcome.program
    if outcome.failed or pattern is None or story is None or program is None:
        return outcome
    with second_hands() as hands:
        results = run_thorough(program, pattern, story, trade, hands)
    told = outcome.told([r.finding for r in results if r.finding is not None])
    return replace(told, checks=(*outcome.checks, *results))
