"""What every rule about a statement of fit needs: its words, its bounds, its verdict."""

from __future__ import annotations

from collections.abc import Callable

from msgspec import Struct

from publisher.checks.context import Context, Numbers, Results, failed, passed
from publisher.checks.places import CHORD_MM, Shape, located
from publisher.checks.types import CheckResult
from publisher.diagnostics import Span
from publisher.model.types import Claim, Target

UNPROVEN = "claim-not-proven"


def said(target: Target) -> str:
    """A thing as the author calls it: ‘flap of wallet’."""
    part = target.said or target.part
    if part and target.kind != "made" and part != target.piece:
        return f"{part} of {target.piece}"
    return part or target.piece


def unproven(claim: Claim, why: str, *notes: str) -> CheckResult:
    return failed(UNPROVEN, said(claim.subject), (), why, claim.span, notes=notes)


def claimed(context: Context, subject: str) -> tuple[Span, ...]:
    """Where the claim stands that a result's subject is about; else where its piece stands."""
    for claim in context.pattern.claims:
        names = [t.part or t.piece for t in (claim.subject, claim.object) if t is not None]
        if all(name in subject for name in names):
            return (claim.span,)
    return tuple(p.span for p in context.pattern.pieces if subject.startswith(p.name))[:1]


Judge = Callable[[Context, Claim, tuple[Shape, ...], tuple[Shape, ...]], CheckResult]
"""Says of a claim what becomes of it, from the shapes of its subject and of its object."""


def judged_in_place(context: Context, verbs: tuple[str, ...], judge: Judge) -> Results:
    """Every claim with one of these verbs, judged where both of its things lie."""
    for claim in context.pattern.claims:
        if claim.verb not in verbs or claim.object is None:
            continue
        first, second = located(context, claim)
        if first and second:
            yield judge(context, claim, first, second)
        else:
            lost = said(claim.object if first else claim.subject)
            why = f"{lost} lies nowhere when all is made, so ‘{claim.verb}’ cannot be proven"
            yield unproven(claim, why)


class Measured(Struct, frozen=True):
    """One length that a claim speaks of. ``what`` names it in a sentence, ``spare_mm`` is how
    much there is; less than 0 where it does not even touch its aim."""

    what: str
    spare_mm: float
    numbers: Numbers = ()


def verdict(
    context: Context,
    claim: Claim,
    code: str,
    measured: Measured,
    holds: str,
    fails: str,
    *,
    ways_out: tuple[str, ...] = (),
    tolerance_mm: float = 2 * CHORD_MM,
) -> CheckResult:
    """A claim's one length against its bounds. ``holds`` and ``fails`` are the sentence with
    ``{}`` for the length; ``fails`` has it positive."""
    least = claim.least_mm or 0.0
    spare = measured.spare_mm
    numbers = (
        ("spare_mm", spare),
        *measured.numbers,
        ("least_mm", least),
        *((("most_mm", claim.most_mm),) if claim.most_mm is not None else ()),
    )
    other = f" and {said(claim.object)}" if claim.object is not None else ""
    subject = f"{said(claim.subject)}{other}"
    slack: Numbers = ((f"least {measured.what}", spare - least),)
    if claim.most_mm is not None:
        slack = (*slack, (f"most {measured.what}", claim.most_mm - spare))
    if spare < least - tolerance_mm:
        sentence = (
            fails.format(context.say(-spare))
            if spare < 0
            else f"{holds.format(context.say(spare))}; {context.say(least)} is wanted"
        )
        return failed(code, subject, numbers, sentence, claim.span, ways_out=ways_out, slack=slack)
    if claim.most_mm is not None and spare > claim.most_mm + tolerance_mm:
        sentence = (
            f"{holds.format(context.say(spare))}; {context.say(claim.most_mm)} at most is wanted"
        )
        return failed("too-much-to-spare", subject, numbers, sentence, claim.span, slack=slack)
    return passed(code, subject, numbers, holds.format(context.told(spare)), slack=slack)
