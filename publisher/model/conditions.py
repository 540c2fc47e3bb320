"""Steps and statements of fit that hold only sometimes: ``when tab is over 8 mm``."""

from __future__ import annotations

from collections.abc import Sequence

from msgspec.structs import replace

from publisher.language.ast import FitClaim, Statement, StepDesign, When
from publisher.language.evaluate import holds
from publisher.language.values import Scope


def steps_that_hold(designs: Sequence[StepDesign], scope: Scope) -> tuple[StepDesign, ...]:
    """The steps with the lines that hold; a step of which none does is no step. A condition
    that cannot be worked out is reported to the scope, and its line is left out."""
    found: list[StepDesign] = []
    for design in designs:
        kept = tuple(s for s in design.statements if _holds(s, scope))
        if len(kept) == len(design.statements):
            found.append(design)
        elif kept:
            found.append(replace(design, statements=kept))
    return tuple(found)


def claims_that_hold(claims: Sequence[FitClaim], scope: Scope) -> tuple[FitClaim, ...]:
    """Likewise the statements of fit."""
    return tuple(c for c in claims if c.condition is None or holds(c.condition, scope))


def _holds(statement: Statement, scope: Scope) -> bool:
    conditions = [j.condition for j in statement.joinings() if isinstance(j, When)]
    return all(holds(condition, scope) for condition in conditions)
