"""``point``: a name for a point, to be spoken of in other lines."""

from publisher.language.statements.spec import StatementSpec

SPEC = StatementSpec(
    head="point",
    where="piece",
    says="A name for a point.",
    example="point thumb, at 1/3 of the way along top of pocket",
    names=True,
    joins=("at",),
)
