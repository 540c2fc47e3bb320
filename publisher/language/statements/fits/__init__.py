"""What a ``fits`` fence can say."""

from __future__ import annotations

from publisher.language.statements.spec import VerbSpec, specs

FITS = specs(
    VerbSpec,
    __name__,
    "clears",
    "closes to",
    "covers",
    "goes into",
    "lies flush with",
    "reaches",
    "slides on",
    "stays inside",
    "tucks under",
    "holds",
    "mails as",
    "opens to",
)
