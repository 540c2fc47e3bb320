"""``glue`` in a piece: where the adhesive goes."""

from publisher.language.statements.spec import StatementSpec

SPEC = StatementSpec(
    head="glue",
    where="piece",
    says="Where the adhesive goes: along edges or on a panel. The face is always said.",
    example="glue along left and right of pocket, 5 mm wide, on back face",
    words=("rectangle",),
    labels=("wide", "high"),
    joins=("along", "on", "at", "from", "meets"),
    bare=1,
    offsets=("clear of", "in from"),
    needs_face=True,
)
