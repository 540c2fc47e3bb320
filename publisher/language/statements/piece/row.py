"""``row``: places for things of several sizes, side by side with equal gaps."""

from publisher.language.statements.spec import StatementSpec

SPEC = StatementSpec(
    head="row",
    where="piece",
    says="Places for things of several sizes, side by side along a line with equal gaps. "
    "Each is a point; what comes there is said in lines of its own.",
    example="row along 30 mm above bottom of front: door = 22 mm, 3 of pane",
    words=("across", "down"),
    labels=("short",),
    joins=("along", "from", "to"),
    items=True,
)
