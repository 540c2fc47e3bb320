"""What a ``piece`` fence can say."""

from __future__ import annotations

from publisher.language.statements.spec import StatementSpec, specs

PIECE = specs(
    StatementSpec,
    __name__,
    "band",
    "bridge",
    "corners",
    "cut",
    "divide",
    "draw",
    "edge",
    "engrave",
    "form",
    "glue",
    "island",
    "join",
    "mark",
    "mat",
    "notch",
    "outline",
    "panel",
    "panels",
    "perforate",
    "point",
    "row",
    "score",
    "slit",
    "tab",
    "trim",
    "unscored",
    "window",
)
