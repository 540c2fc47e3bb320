"""``crease`` in a step: a fold is sharpened."""

from publisher.language.statements.spec import StatementSpec

SPEC = StatementSpec(
    head="crease",
    where="step",
    says="Sharpens a fold that was made before.",
    example="crease each wall of drawer",
    joins=("by",),
    bare=1,
)
