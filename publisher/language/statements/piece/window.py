"""``window``: a closed hole."""

from publisher.language.statements.spec import StatementSpec

SPEC = StatementSpec(
    head="window",
    where="piece",
    says="A closed hole; its middle is placed.",
    example="window circle, 6 mm across, at middle of flap",
    words=("rectangle", "circle"),
    labels=("wide", "high", "across"),
    joins=("at", "in"),
    bare=1,
    offsets=("in from",),
    later=("ellipse", "ring", "polygon", "star", "half round", "points", "saying", "from file"),
)
