"""Actions that the language knows and nothing builds yet."""

from publisher.language.statements.spec import StatementSpec

PULL = StatementSpec(
    head="pull",
    where="step",
    says="Pulls a part.",
    example="pull tongue of carrier through slit of carrier",
    built=False,
)
CURL = StatementSpec(
    head="curl",
    where="step",
    says="Curls a panel.",
    example="curl panel 1 of tube",
    built=False,
)
TAPE = StatementSpec(
    head="tape",
    where="step",
    says="Tapes one thing to another.",
    example="tape flap of wallet to pocket of wallet",
    built=False,
)

SPECS = (PULL, CURL, TAPE)
