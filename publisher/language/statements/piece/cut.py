"""``cut``: paper taken away, over an edge too."""

from publisher.language.statements.spec import (
    PLACED_JOINS,
    PLACED_LABELS,
    PLACED_OFFSETS,
    PLACED_WORDS,
    StatementSpec,
)

SPEC = StatementSpec(
    head="cut",
    where="piece",
    says="The paper within a shape is taken away, over an edge too.",
    example="cut circle, 30 mm across, at top right of flap",
    words=PLACED_WORDS,
    labels=PLACED_LABELS,
    joins=PLACED_JOINS,
    bare=1,
    offsets=PLACED_OFFSETS,
)
