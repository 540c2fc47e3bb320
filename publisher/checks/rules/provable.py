"""A claim that no rule can prove yet is said aloud, never printed as proven."""

from __future__ import annotations

from publisher.checks.context import Context, Results, failed

CODE = "claim-not-proven"
PROVEN = (
    "goes into",
    "slides on",
    "closes to",
    "lies flush with",
    "covers",
    "clears",
    "reaches",
    "stays inside",
    "tucks under",
    "holds",
    "mails as",
    "opens to",
)


def check(context: Context) -> Results:
    for claim in context.pattern.claims:
        if claim.verb not in PROVEN:
            subject = claim.subject.part or claim.subject.piece
            yield failed(
                CODE,
                subject,
                (),
                f"‘{claim.verb}’ cannot be proven yet, so it cannot be promised",
                claim.span,
                ways_out=("take the line out, or say it with: " + ", ".join(PROVEN),),
            )
