"""``slit``: a cut without width."""

from publisher.language.statements.spec import StatementSpec

SPEC = StatementSpec(
    head="slit",
    where="piece",
    says="A cut without width, along a line or at a point.",
    example="slit along 5 mm above bottom of flap, from left of flap to right of flap",
    words=("across", "down"),
    labels=("long", "wide", "deep"),
    joins=("along", "at", "from", "between", "on"),
    offsets=("in from",),
    later=("half round", "square", "vee", "facing", "times", "apart"),
)
