"""``pull`` in a step: what is in another thing is drawn out."""

from publisher.language.statements.spec import StatementSpec

SPEC = StatementSpec(
    head="pull",
    where="step",
    says="Pulls a thing out of what it is in, all the way, or as far as ‘by’ says.",
    example="pull drawer out from sleeve by 60 mm",
    joins=("out from", "by"),
    bare=1,
)
