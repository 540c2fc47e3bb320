"""Runs every rule over one assembled pattern."""

from __future__ import annotations

from publisher.assembly.types import Story
from publisher.checks.context import Context
from publisher.checks.own import own_trade, practices, waived
from publisher.checks.rules import (
    borders,
    bridges,
    clears,
    closed_size,
    covers,
    cut_near_score,
    falls_out,
    figures,
    flaps,
    glue_meets,
    glue_order,
    glue_used,
    glue_zones,
    goes_into,
    hidden_layers,
    holes,
    lies_flush_with,
    mails_as,
    mirrored,
    near_lines,
    opens_to,
    outline,
    over_glue,
    pictures,
    provable,
    reaches,
    score_spacing,
    scores,
    sides_said,
    slides_on,
    slit_holders,
    slivers,
    spines,
    tabs,
    unscored,
    used,
    wet_glue,
)
from publisher.checks.types import CheckResult
from publisher.model.types import Pattern
from publisher.trade import Trade

RULES = (
    outline,
    near_lines,
    slivers,
    falls_out,
    bridges,
    holes,
    scores,
    score_spacing,
    cut_near_score,
    flaps,
    spines,
    tabs,
    glue_zones,
    glue_meets,
    glue_order,
    over_glue,
    hidden_layers,
    mirrored,
    borders,
    goes_into,
    slides_on,
    slit_holders,
    closed_size,
    lies_flush_with,
    covers,
    clears,
    reaches,
    mails_as,
    opens_to,
    provable,
    unscored,
    wet_glue,
    used,
    glue_used,
    figures,
    sides_said,
    pictures,
)


DOCUMENT = (unscored, wet_glue, used, glue_used, figures, sides_said, pictures)
"""Rules about what the document says: they hold for the design as it is written."""
MADE = tuple(rule for rule in RULES if rule not in DOCUMENT)


def run_made(pattern: Pattern, story: Story, trade: Trade) -> tuple[CheckResult, ...]:
    """What is about the thing itself: all that a change of a size can break or mend."""
    context = Context(pattern, story, own_trade(pattern, trade))
    return waived(pattern, (result for rule in MADE for result in rule.check(context)))


def run_checks(pattern: Pattern, story: Story, trade: Trade) -> tuple[CheckResult, ...]:
    """All results, rule by rule in the order above, each rule in the pattern's order."""
    context = Context(pattern, story, own_trade(pattern, trade))
    found = (result for rule in RULES for result in rule.check(context))
    return (*practices(pattern, trade), *waived(pattern, found))
