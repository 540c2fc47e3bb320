"""``X opens to 180 degrees``: opened from closed, everything follows and nothing meets."""

from __future__ import annotations

import math

from publisher.assembly import Opening, opening
from publisher.checks.context import Context, Results, failed, passed
from publisher.checks.types import CheckResult
from publisher.model.types import Claim
from publisher.units import angle

CODE = "does-not-open"
MOST_DEG = 360.0
"""From face on face round to back on back: a fold goes no further."""


def check(context: Context) -> Results:
    for claim in context.pattern.claims:
        if claim.verb == "opens to" and claim.size_mm is not None:
            yield _verdict(context, claim, claim.size_mm[0])


def _verdict(context: Context, claim: Claim, wanted: float) -> CheckResult:
    name = claim.subject.piece
    if wanted > MOST_DEG:
        said = f"{name} cannot open to {angle(wanted)}: {angle(MOST_DEG)} is once all the way round"
        return failed(CODE, name, (("wanted_deg", wanted),), said, claim.span)
    found = opening(context.pattern, context.story.end, name, wanted)
    if found is None:
        return failed(
            CODE,
            name,
            (("wanted_deg", wanted),),
            f"{name} has no fold to open about",
            claim.span,
        )
    numbers = (
        ("wanted_deg", wanted),
        ("from_deg", found.from_deg),
        ("to_deg", found.to_deg),
        ("looks", float(found.looks)),
        ("through_mm", found.crossing.depth_mm if found.crossing else 0.0),
        ("out_mm", max((mm for _, mm in found.out), default=0.0)),
        *((("inside_mm", found.inside_mm),) if math.isfinite(found.inside_mm) else ()),
    )
    slack = (("inside", found.inside_mm),) if math.isfinite(found.inside_mm) else ()
    fault = _fault(context, name, found, wanted)
    if fault:
        slack = (("inside", -max(mm for _, mm in found.out)),) if found.out else slack
        return failed(CODE, name, numbers, fault, claim.span, slack=slack)
    closed = ""
    if slack:
        near = context.told(found.inside_mm)
        closed = f", and closed nothing sticks out: the nearest is {near} in"
    said = f"{name} opens to {angle(wanted)} and nothing meets on the way{closed}"
    return passed(CODE, name, numbers, said, slack)


def _fault(context: Context, name: str, found: Opening, wanted: float) -> str:
    """What is wrong, the first of: it does not follow, it meets, it sticks out."""

    def folds(keys: tuple[tuple[str, str], ...]) -> str:
        return " and ".join(fold for _, fold in keys)

    def part(facet: tuple[str, str]) -> str:
        known = context.story.handled or context.pattern
        piece = known.piece(context.story.body_pieces[facet[0]])
        return f"{facet[1]} of {piece.name}"

    if found.stuck:
        span = f"between {angle(found.from_deg)} and {angle(found.to_deg)} only"
        return f"{name} moves {span}: then these folds cannot all hold: {folds(found.stuck)}"
    if found.against:
        return f"{folds(found.against)} of {name} would have to go against the score"
    if found.crossing is not None:
        one = found.crossing
        return (
            f"opened {angle(found.at_deg)}, {part(one.first)} goes"
            f" {context.say(one.depth_mm)} through {part(one.second)}"
        )
    if found.out:
        facet, mm = max(found.out, key=lambda o: (round(o[1], 6), o[0]))
        return f"{part(facet)} sticks out {context.say(mm)} when {name} is closed"
    return ""
