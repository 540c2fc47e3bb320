"""``score`` in a piece: a line that will fold."""

from publisher.language.statements.spec import StatementSpec

SPEC = StatementSpec(
    head="score",
    where="piece",
    says="A line to be scored, and which way it folds.",
    example="score along 5 mm above bottom of flap, mountain by 90 degrees",
    words=("mountain", "valley"),
    joins=("along", "between", "from", "by", "on", "in"),
)
