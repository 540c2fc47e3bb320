"""A named size."""

from publisher.language.statements.spec import StatementSpec

SPEC = StatementSpec(
    head="size",
    where="sizes",
    says="A name for a measure: its value, the range it may take, and a note that is printed.",
    example='depth = 22 mm, from 12 mm to 40 mm  "inside of the drawer"',
)
