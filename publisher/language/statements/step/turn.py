"""``turn`` in a step: a piece is turned."""

from publisher.language.statements.spec import StatementSpec

SPEC = StatementSpec(
    head="turn",
    where="step",
    says="Turns a piece over, or round.",
    example="turn over drawer",
    joins=(
        "over",
        "by",
        "around",
    ),
    bare=1,
)
