"""What a ``sizes`` fence can say."""

from __future__ import annotations

from publisher.language.statements.spec import StatementSpec, specs

SIZES = specs(
    StatementSpec,
    __name__,
    "size",
    "variant",
)
