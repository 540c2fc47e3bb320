"""``notch``: a cut that is open to an edge."""

from publisher.language.statements.spec import StatementSpec

SPEC = StatementSpec(
    head="notch",
    where="piece",
    says="A cut that is open to an edge; its mouth is placed.",
    example="notch half round, 24 mm wide, at middle of top of pocket",
    words=("half round", "square", "vee"),
    labels=("wide", "deep", "across"),
    joins=("at",),
    bare=1,
    later=("times", "apart", "turned", "mirrored"),
)
