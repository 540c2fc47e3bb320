"""``trim``: only what lies within a shape is kept."""

from publisher.language.statements.spec import (
    PLACED_JOINS,
    PLACED_LABELS,
    PLACED_OFFSETS,
    PLACED_WORDS,
    StatementSpec,
)

SPEC = StatementSpec(
    head="trim",
    where="piece",
    says="Only the paper that lies within a shape is kept.",
    example="trim circle, 90 mm across, at middle",
    words=PLACED_WORDS,
    labels=PLACED_LABELS,
    joins=PLACED_JOINS,
    bare=1,
    offsets=PLACED_OFFSETS,
)
