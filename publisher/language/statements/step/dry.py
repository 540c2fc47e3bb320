"""``dry`` in a step: left alone until the glue is dry."""

from publisher.language.statements.spec import StatementSpec

SPEC = StatementSpec(
    head="dry",
    where="step",
    says="Lets a thing dry, for as long as is said.",
    example="dry tray, 20 minutes",
    bare=2,
)
