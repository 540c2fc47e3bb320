"""``notch``: a cut that is open to an edge."""

from publisher.language.statements.spec import StatementSpec

SPEC = StatementSpec(
    head="notch",
    where="piece",
    says="A cut that is open to an edge; its mouth is placed. Several stand along an edge.",
    example="notch half round, 24 mm wide, at middle of top of pocket",
    words=("half round", "square", "vee", "evenly"),
    labels=("wide", "deep", "across", "times", "apart", "short"),
    joins=("at", "along", "from", "to"),
    bare=1,
    later=("turned", "mirrored"),
)
