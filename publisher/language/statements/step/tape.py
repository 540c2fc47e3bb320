"""``tape`` in a step: two parts are held together by tape."""

from publisher.language.statements.spec import StatementSpec

SPEC = StatementSpec(
    head="tape",
    where="step",
    says="Puts tape over the edge at which two parts meet, or over the edge of a flap that lies "
    "on another part.",
    example="tape flap of wallet to pocket of wallet",
    joins=("to", "on"),
    bare=1,
    built=False,
)
