"""``mat``: a decorative layer on a panel, or behind it."""

from publisher.language.statements.spec import CORNER_WORDS, StatementSpec

SPEC = StatementSpec(
    head="mat",
    where="piece",
    says="A layer that follows a panel: ‘on’ it smaller by a border, ‘behind’ it larger.",
    example="mat on panel 1 of sleeve, 4 mm border",
    words=("plain", *CORNER_WORDS),
    labels=("border", "radius", "deep"),
    joins=("on", "behind"),
    bare=1,
)
