"""``engrave``: lines and shapes to be engraved."""

from publisher.language.statements.spec import (
    PLACED_JOINS,
    PLACED_LABELS,
    PLACED_OFFSETS,
    PLACED_WORDS,
    StatementSpec,
)

SPEC = StatementSpec(
    head="engrave",
    where="piece",
    says="As ‘draw’, for lines that a machine cuts into the face and not through.",
    example="engrave circle, 20 mm across, at middle of flap",
    words=(*PLACED_WORDS, "square", "vee"),
    labels=(*PLACED_LABELS, "long"),
    joins=(*PLACED_JOINS, "facing"),
    bare=1,
    offsets=PLACED_OFFSETS,
)
