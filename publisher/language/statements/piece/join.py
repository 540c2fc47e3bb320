"""``join``: paper added to the outline."""

from publisher.language.statements.spec import (
    PLACED_JOINS,
    PLACED_LABELS,
    PLACED_OFFSETS,
    PLACED_WORDS,
    StatementSpec,
)

SPEC = StatementSpec(
    head="join",
    where="piece",
    says="Paper added to the outline. What is open on one side (half round, square, vee) grows "
    "out of the edge at the point that is named; other shapes have their middle there.",
    example="join half round, 80 mm wide, 20 mm deep, at middle of top of front",
    words=(*PLACED_WORDS, "square", "vee"),
    labels=PLACED_LABELS,
    joins=PLACED_JOINS,
    bare=1,
    offsets=PLACED_OFFSETS,
)
