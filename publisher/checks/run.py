"""Runs every rule over one assembled pattern."""

from __future__ import annotations

from publisher.assembly.types import Story
from publisher.checks.context import Context
from publisher.checks.rules import (
    borders,
    clears,
    closed_size,
    covers,
    figures,
    glue_meets,
    glue_zones,
    goes_into,
    lies_flush_with,
    mails_as,
    outline,
    provable,
    reaches,
    scores,
    slides_on,
    used,
)
from publisher.checks.types import CheckResult
from publisher.model.types import Pattern
from publisher.trade import Trade

RULES = (
    outline,
    scores,
    glue_zones,
    glue_meets,
    borders,
    goes_into,
    slides_on,
    closed_size,
    lies_flush_with,
    covers,
    clears,
    reaches,
    mails_as,
    provable,
    used,
    figures,
)


def run_checks(pattern: Pattern, story: Story, trade: Trade) -> tuple[CheckResult, ...]:
    """All results, rule by rule in the order above, each rule in the pattern's order."""
    context = Context(pattern, story, trade)
    return tuple(result for rule in RULES for result in rule.check(context))
