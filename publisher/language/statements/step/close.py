"""``close`` in a step: a piece is closed."""

from publisher.language.statements.spec import StatementSpec

SPEC = StatementSpec(
    head="close",
    where="step",
    says="Closes a piece: every fold goes to its closing angle.",
    example="close page",
    joins=("by",),
    bare=1,
)
