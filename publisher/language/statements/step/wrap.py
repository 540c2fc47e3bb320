"""``wrap`` in a step: a piece is wrapped."""

from publisher.language.statements.spec import StatementSpec

SPEC = StatementSpec(
    head="wrap",
    where="step",
    says="Wraps a band or sleeve around something.",
    example="wrap sleeve around drawer",
    joins=("around",),
    bare=1,
)
