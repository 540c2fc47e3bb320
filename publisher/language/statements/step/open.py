"""``open`` in a step: a piece is opened."""

from publisher.language.statements.spec import StatementSpec

SPEC = StatementSpec(
    head="open",
    where="step",
    says="Opens a piece, or folds of it.",
    example="open lid of box by 90 degrees",
    joins=("by",),
    bare=1,
)
