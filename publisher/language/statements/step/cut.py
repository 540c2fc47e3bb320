"""``cut`` in a step: what is cut by hand."""

from publisher.language.statements.spec import StatementSpec

SPEC = StatementSpec(
    head="cut",
    where="step",
    says="Cuts a piece, or a slit or window of it.",
    example="cut each slit of page",
    joins=(),
    bare=1,
)
