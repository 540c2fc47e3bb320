"""``panel``: a first panel, or one grown from an edge of another."""

from publisher.language.statements.spec import StatementSpec

SPEC = StatementSpec(
    head="panel",
    where="piece",
    says="A panel: the first with its size, each other one grown from an edge with its depth.",
    example="panel wall, on bottom of base, 40 mm deep, mountain by 90 degrees",
    names=True,
    words=("mountain", "valley"),
    labels=("deep", "wide", "high", "taper"),
    joins=("on", "by"),
    bare=1,
)
