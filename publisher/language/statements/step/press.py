"""``press`` in a step: what is pressed out or flat."""

from publisher.language.statements.spec import StatementSpec

SPEC = StatementSpec(
    head="press",
    where="step",
    says="Presses a cut part out, or a fold flat.",
    example="press each pane of lantern",
    joins=("on",),
    bare=1,
)
