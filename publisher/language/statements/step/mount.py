"""``mount`` in a step: fixed on pads, a little off the paper."""

from publisher.language.statements.spec import StatementSpec

SPEC = StatementSpec(
    head="mount",
    where="step",
    says="Fixes a piece on pads, so that it stands off what is below.",
    example="mount leaf on front of card with foam pads",
    joins=("on", "to", "with"),
    bare=1,
)
