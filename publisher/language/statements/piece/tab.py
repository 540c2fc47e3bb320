"""``tab``: a glue tab on an edge, and the edge that it meets."""

from publisher.language.statements.spec import StatementSpec

SPEC = StatementSpec(
    head="tab",
    where="piece",
    says="A glue tab on an edge; ‘meets’ says which edge it is glued to. ‘between each wall’ "
    "puts one wherever two of them, side by side, come together.",
    example="tab on left of wall, 12 mm deep, 2 mm taper, mountain by 90 degrees, meets top of lid",
    words=("mountain", "valley"),
    labels=("deep", "taper"),
    joins=("on", "between", "meets", "by"),
)
