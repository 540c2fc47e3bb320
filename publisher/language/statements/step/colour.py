"""``colour`` in a step: a face is coloured by hand."""

from publisher.language.statements.spec import StatementSpec

SPEC = StatementSpec(
    head="colour",
    where="step",
    says="Colours a piece or a panel by hand; the note says with what.",
    example='colour lid of box, on front face "a green pencil"',
    joins=("on",),
    bare=1,
)
