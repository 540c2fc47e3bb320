"""Whether makers succeed: each fit as cut, scored and folded by machine and by hand."""

from __future__ import annotations

from collections.abc import Iterator

from publisher.checks.claims import claimed
from publisher.checks.context import Context, failed
from publisher.checks.tolerances import Hands, Stack, fits, makers, stacks
from publisher.checks.types import CheckResult

CODE = "fails-in-the-making"
METHOD = (
    "Each cut, score, fold and thickness may be off by its tolerance in practice.toml, taken as"
    " three standard deviations of a normal spread; their effects on the fit are added as"
    " squares."
)
RANKED = 3
BOTH: tuple[Hands, ...] = ("machine", "hand")


def making_verdicts(context: Context) -> Iterator[CheckResult]:
    """One result for each fit, in the order of the fits."""
    found = stacks(context)
    most = context.practice("failing_makers_most")
    for result in fits(context):
        mine = tuple(s for s in found if s.key[0] == result.subject)
        if not mine or result.result != "pass":
            continue
        tight = tuple(s for s in mine if not s.key[1].startswith("most"))
        loose = tuple(s for s in mine if s.key[1].startswith("most"))
        shares = {
            by: (makers(tight, by) if tight else 0.0, makers(loose, by) if loose else 0.0)
            for by in BOTH
        }
        numbers = tuple(
            (f"{by}_{what}", value)
            for by, pair in shares.items()
            for what, value in (
                ("too_tight_share", pair[0]),
                ("too_loose_share", pair[1]),
                ("worst_mm", min(s.worst_mm(by) for s in mine)),
                ("rss_mm", max(s.rss_mm(by) for s in mine)),
            )
        )
        sentence = f"{result.subject}: {_said('machine', shares)}; {_said('hand', shares)}"
        if max(shares["hand"]) <= most and max(shares["machine"]) <= most:
            yield CheckResult(CODE, result.subject, "pass", numbers, sentence)
            continue
        by: Hands = "machine" if max(shares["machine"]) > most else "hand"
        worst = max(mine, key=lambda s: s.share_failing(by))
        yield failed(
            CODE,
            result.subject,
            numbers,
            sentence,
            *claimed(context, result.subject),
            notes=(METHOD, _contributors(worst, by)),
            severity="warning",
        )


def _said(by: Hands, shares: dict[Hands, tuple[float, float]]) -> str:
    tight, loose = shares[by]
    parts = [f"{n} will be too {w}" for n, w in ((_of(tight), "tight"), (_of(loose), "loose")) if n]
    return f"by {by} {' and '.join(parts)}" if parts else f"fits by {by}"


def _of(share: float) -> str:
    """A share of all makers in words; "" for fewer than one in a thousand."""
    if share < 0.001:
        return ""
    return f"{round(share * 100)} in 100" if share >= 0.01 else f"{round(share * 1000)} in 1000"


def _contributors(stack: Stack, by: Hands) -> str:
    ranked = stack.ranked(by)[:RANKED]
    return "Most of it comes from " + ", ".join(f"{c.said} ({s:.0%})" for c, s in ranked) + "."
