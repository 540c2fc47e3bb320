"""``push`` in a step: a part is pushed."""

from publisher.language.statements.spec import StatementSpec

SPEC = StatementSpec(
    head="push",
    where="step",
    says="Pushes a part out of the plane.",
    example="push large step of page",
    joins=(
        "through",
        "into",
        "by",
    ),
    bare=1,
)
