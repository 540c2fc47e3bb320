"""``lay`` in a step: a piece is laid down."""

from publisher.language.statements.spec import StatementSpec

SPEC = StatementSpec(
    head="lay",
    where="step",
    says="Lays one thing on another.",
    example="lay cover on page",
    joins=(
        "on",
        "over",
        "under",
        "behind",
        "in",
        "into",
    ),
    bare=1,
)
