"""``tape`` in a step: double-sided tape in place of glue."""

from publisher.language.statements.spec import StatementSpec

SPEC = StatementSpec(
    head="tape",
    where="step",
    says="Puts double-sided tape on a part, where glue could go, or tapes it to what is named.",
    example="tape flap of wallet to pocket of wallet",
    joins=("to", "behind", "on", "into", "around"),
    bare=1,
)
