"""``outline``: a piece of one shape."""

from publisher.language.statements.spec import SHAPE_JOINS, SHAPE_LABELS, SHAPE_WORDS, StatementSpec

SPEC = StatementSpec(
    head="outline",
    where="piece",
    says="The whole piece is one shape. A polygon or a star is so far across as the circle "
    "through its corners; a polygon can be said by its side.",
    example="outline polygon, 6 sides, 40 mm across",
    words=SHAPE_WORDS,
    labels=SHAPE_LABELS,
    joins=SHAPE_JOINS,
    bare=1,
)
