"""``window``: a closed hole."""

from publisher.language.statements.spec import (
    PLACED_JOINS,
    PLACED_LABELS,
    PLACED_OFFSETS,
    PLACED_WORDS,
    StatementSpec,
)

SPEC = StatementSpec(
    head="window",
    where="piece",
    says="A closed hole; its middle is placed. Several stand in a row, on a grid or round a point.",
    example="window circle, 6 mm across, at middle of flap, 3 times, 12 mm apart, across",
    words=PLACED_WORDS,
    labels=PLACED_LABELS,
    joins=PLACED_JOINS,
    bare=1,
    offsets=PLACED_OFFSETS,
)
