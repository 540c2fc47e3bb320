"""``fold`` in a step: paper moves about a fold."""

from publisher.language.statements.spec import StatementSpec

SPEC = StatementSpec(
    head="fold",
    where="step",
    says="Folds parts about the fold that joins them to the rest, or along a curved score.",
    example="fold lower of page by 90 degrees",
    joins=("by",),
    bare=1,
)
