"""``edge``: a name for an edge or a line, to be spoken of in other lines."""

from publisher.language.statements.spec import StatementSpec

SPEC = StatementSpec(
    head="edge",
    where="piece",
    says="A name for an edge, or for a line.",
    example="edge mouth, along top of pocket",
    names=True,
    joins=("along",),
)
