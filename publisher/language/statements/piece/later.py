"""Statements of a piece that the language knows and nothing builds yet."""

from publisher.language.statements.spec import StatementSpec

PERFORATE = StatementSpec(
    head="perforate",
    where="piece",
    says="A line of small cuts to tear along.",
    example="perforate along 20 mm below top, from left to right",
    built=False,
)
DRAW = StatementSpec(
    head="draw",
    where="piece",
    says="A line to be drawn.",
    example="draw along 20 mm below top, from left to right",
    built=False,
)
ENGRAVE = StatementSpec(
    head="engrave",
    where="piece",
    says="A line to be engraved.",
    example="engrave along 20 mm below top, from left to right",
    built=False,
)

SPECS = (PERFORATE, DRAW, ENGRAVE)
