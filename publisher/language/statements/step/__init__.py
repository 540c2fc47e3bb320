"""What a ``step`` fence can say."""

from __future__ import annotations

from publisher.language.statements.spec import StatementSpec, specs

STEP = specs(
    StatementSpec,
    __name__,
    "close",
    "colour",
    "crease",
    "curl",
    "cut",
    "dry",
    "fold",
    "glue",
    "hold",
    "lay",
    "mount",
    "open",
    "press",
    "pull",
    "push",
    "score",
    "slide",
    "stamp",
    "tape",
    "tuck",
    "turn",
    "wrap",
)
