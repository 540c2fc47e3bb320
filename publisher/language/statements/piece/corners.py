"""``corners``: how corners are cut."""

from publisher.language.statements.spec import StatementSpec

SPEC = StatementSpec(
    head="corners",
    where="piece",
    says="Corners of the paper that are rounded, bevelled or scooped; all that point outwards "
    "where none is named. A bevel begins so deep along each edge.",
    example="corners rounded, 6 mm radius, at top left of flap",
    words=("rounded", "bevelled", "scooped"),
    labels=("radius", "deep"),
    joins=("at",),
    bare=1,
)
