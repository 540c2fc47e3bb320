"""``divide``: where a piece may be cut in two."""

from publisher.language.statements.spec import StatementSpec

SPEC = StatementSpec(
    head="divide",
    where="piece",
    says="A line along which the piece is cut in two where it goes on no sheet whole. The part "
    "above it, or left of it, keeps a tab, on which the other is glued.",
    example="divide along 200 mm right of left, 12 mm tab",
    labels=("tab",),
    words=("across", "down"),
    joins=("along",),
)
