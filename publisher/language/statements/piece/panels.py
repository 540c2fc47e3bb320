"""``panels``: a chain of panels with a fold between each two."""

from publisher.language.statements.spec import StatementSpec

SPEC = StatementSpec(
    head="panels",
    where="piece",
    says="A chain of panels, across or down, with a fold between each two.",
    example="panels down, 140 mm wide, mountain: pocket, back = 65 mm, 2 of hem",
    words=("across", "down", "mountain", "valley"),
    labels=("wide", "high"),
    joins=("by",),
    bare=1,
    items=True,
)
