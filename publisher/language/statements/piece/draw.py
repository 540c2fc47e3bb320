"""``draw``: lines and shapes to be drawn."""

from publisher.language.statements.spec import (
    PLACED_JOINS,
    PLACED_LABELS,
    PLACED_OFFSETS,
    PLACED_WORDS,
    StatementSpec,
)

SPEC = StatementSpec(
    head="draw",
    where="piece",
    says="Lines and shapes drawn on the front face: along a line, from point to point, or a "
    "shape at its place.",
    example="draw along 20 mm below top, from left to right",
    words=(*PLACED_WORDS, "square", "vee"),
    labels=(*PLACED_LABELS, "long"),
    joins=(*PLACED_JOINS, "facing"),
    bare=1,
    offsets=PLACED_OFFSETS,
)
