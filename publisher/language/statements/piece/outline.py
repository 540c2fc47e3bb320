"""``outline``: a piece of one shape."""

from publisher.language.statements.spec import StatementSpec

SPEC = StatementSpec(
    head="outline",
    where="piece",
    says="The whole piece is one shape.",
    example="outline rectangle, 60 x 40 mm",
    words=("rectangle",),
    labels=("wide", "high"),
    bare=1,
    later=("circle", "ellipse", "ring", "polygon", "star", "half round", "points", "path"),
)
