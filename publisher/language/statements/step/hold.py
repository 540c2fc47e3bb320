"""``hold`` in a step: pressed by hand until the glue grips."""

from publisher.language.statements.spec import StatementSpec

SPEC = StatementSpec(
    head="hold",
    where="step",
    says="Holds a part by hand or with a clip, for as long as is said.",
    example="hold seam of tray, 30 seconds",
    bare=2,
)
