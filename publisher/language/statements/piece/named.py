"""``point`` and ``edge``: names for places, to be spoken of in other lines."""

from publisher.language.statements.spec import StatementSpec

POINT = StatementSpec(
    head="point",
    where="piece",
    says="A name for a point.",
    example="point thumb, at 1/3 of the way along top of pocket",
    names=True,
    joins=("at",),
)
EDGE = StatementSpec(
    head="edge",
    where="piece",
    says="A name for an edge, or for a line.",
    example="edge mouth, along top of pocket",
    names=True,
    joins=("along",),
)
