"""``island``: paper that stays in a window."""

from publisher.language.statements.spec import (
    PLACED_JOINS,
    PLACED_LABELS,
    PLACED_OFFSETS,
    PLACED_WORDS,
    StatementSpec,
)

SPEC = StatementSpec(
    head="island",
    where="piece",
    says="Paper that stays within a window; bridges hold it.",
    example="island star, 5 points, 30 mm across, at middle of pane",
    words=PLACED_WORDS,
    labels=PLACED_LABELS,
    joins=PLACED_JOINS,
    bare=1,
    offsets=PLACED_OFFSETS,
)
