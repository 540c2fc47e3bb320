"""``bridge``: strips that hold an island."""

from publisher.language.statements.spec import StatementSpec

SPEC = StatementSpec(
    head="bridge",
    where="piece",
    says="A strip that holds an island, from the frame of its window back to where all the "
    "strip's width is paper.",
    example="bridge 2 mm wide, out from each tip of star",
    labels=("wide",),
    joins=("out from",),
    bare=1,
)
