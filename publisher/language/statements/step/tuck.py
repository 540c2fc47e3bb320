"""``tuck`` in a step: under a tongue, behind a panel, into a slit, under a band."""

from publisher.language.statements.spec import StatementSpec

SPEC = StatementSpec(
    head="tuck",
    where="step",
    says="Tucks a card under the tongues of slits or under a band, a flap behind a panel, a tab "
    "into a slit. What goes in must have its way in.",
    example="tuck card under slit of carrier",
    joins=("under", "behind", "into"),
    bare=1,
)
