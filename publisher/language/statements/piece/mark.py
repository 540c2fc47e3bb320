"""``mark``: crosses by which sheets are laid on each other."""

from publisher.language.statements.spec import StatementSpec

SPEC = StatementSpec(
    head="mark",
    where="piece",
    says="A cross to lay one sheet on another by. It is drawn, not cut.",
    example="mark cross, 8 mm across, at 10 mm below 10 mm right of top left",
    words=("cross",),
    labels=("across",),
    joins=("at",),
    bare=1,
)
