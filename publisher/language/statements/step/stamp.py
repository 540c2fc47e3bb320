"""``stamp`` in a step: a face is stamped."""

from publisher.language.statements.spec import StatementSpec

SPEC = StatementSpec(
    head="stamp",
    where="step",
    says="Stamps a piece or a panel; the note says with what.",
    example='stamp label "a leaf stamp and green ink"',
    joins=("on",),
    bare=1,
)
