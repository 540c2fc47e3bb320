"""``corners``: how corners are cut."""

from publisher.language.statements.spec import StatementSpec

SPEC = StatementSpec(
    head="corners",
    where="piece",
    says="Corners that are rounded, bevelled or scooped.",
    example="corners rounded, 6 mm radius, at top left of flap",
    words=("square", "rounded", "bevelled", "scooped"),
    labels=("radius", "deep"),
    joins=("at",),
    built=False,
)
