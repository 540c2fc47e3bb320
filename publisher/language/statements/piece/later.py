"""Statements of a piece that the language knows and nothing builds yet."""

from publisher.language.statements.spec import StatementSpec

FORM = StatementSpec(
    head="form",
    where="piece",
    says="A whole piece, or a detail of one, from a form.",
    example="form tray, inside = 80 x 80 x 40 mm, called base",
    settings=True,
    names=False,
    built=False,
)
JOIN = StatementSpec(
    head="join",
    where="piece",
    says="Paper added to the outline.",
    example="join circle, 30 mm across, at middle of top",
    built=False,
)
TRIM = StatementSpec(
    head="trim",
    where="piece",
    says="Only what lies within a shape is kept.",
    example="trim circle, 30 mm across, at middle",
    built=False,
)
UNSCORED = StatementSpec(
    head="unscored",
    where="piece",
    says="A gap in a score.",
    example="unscored along gutter, from left slit to right slit",
    built=False,
)
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

SPECS = (FORM, JOIN, TRIM, UNSCORED, PERFORATE, DRAW, ENGRAVE)
