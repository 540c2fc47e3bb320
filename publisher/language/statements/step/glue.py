"""``glue`` in a step: a glue zone meets its partner."""

from publisher.language.statements.spec import StatementSpec

SPEC = StatementSpec(
    head="glue",
    where="step",
    says="Glues a part to what its zone meets, or to what is named; a tab also to a drawn line.",
    example="glue sleeve mat to panel 1 of sleeve",
    joins=(
        "to",
        "behind",
        "on",
        "into",
        "around",
    ),
    bare=1,
)
