"""``form``: a whole piece, or a detail of one, from a form."""

from publisher.language.statements.spec import StatementSpec

SPEC = StatementSpec(
    head="form",
    where="piece",
    says="A whole piece, or a detail of one, from a form; left is the form's name for a size.",
    example="form tray, inside = 80 x 80 x 40 mm, called base",
    settings=True,
)
