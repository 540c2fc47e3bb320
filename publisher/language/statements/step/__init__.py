"""What a ``step`` fence can say."""

from __future__ import annotations

from publisher.language.statements.spec import StatementSpec, specs

STEP = specs(
    StatementSpec,
    __name__,
    "close",
    "crease",
    "curl",
    "cut",
    "fold",
    "glue",
    "lay",
    "open",
    "press",
    "pull",
    "push",
    "score",
    "slide",
    "tape",
    "tuck",
    "turn",
    "wrap",
)
