"""``score`` in a step: the scores are made."""

from publisher.language.statements.spec import StatementSpec

SPEC = StatementSpec(
    head="score",
    where="step",
    says="Scores all the lines of a piece.",
    example="score tray and lid",
    joins=("on",),
    bare=1,
)
