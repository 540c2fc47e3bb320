"""``unscored``: a gap in a score."""

from publisher.language.statements.spec import StatementSpec

SPEC = StatementSpec(
    head="unscored",
    where="piece",
    says="A stretch of a fold that is not scored, so that the paper there stays in one.",
    example="unscored along gutter, from left slit to right slit",
    joins=("along", "from"),
)
