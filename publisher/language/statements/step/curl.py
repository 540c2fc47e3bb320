"""``curl`` in a step: a panel is bent evenly."""

from publisher.language.statements.spec import StatementSpec

SPEC = StatementSpec(
    head="curl",
    where="step",
    says="Bends a panel evenly, its back face inside unless ‘valley’ is said: by an angle, with a "
    "radius, or till one edge meets another. ‘across’ or ‘down’ says which way it runs round.",
    example="curl right of wall to left of wall",
    words=("across", "down", "mountain", "valley"),
    labels=("radius",),
    joins=("to", "by"),
    bare=1,
)
