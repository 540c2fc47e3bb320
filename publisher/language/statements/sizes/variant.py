"""A variant: one choice of sizes under a name."""

from publisher.language.statements.spec import StatementSpec

SPEC = StatementSpec(
    head="variant",
    where="sizes",
    says="One choice of sizes under a name.",
    example='variant mini: depth = 12 mm, border = 3 mm  "for a shelf of small tins"',
)
