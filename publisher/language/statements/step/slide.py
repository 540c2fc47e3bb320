"""``slide`` in a step: a piece slides."""

from publisher.language.statements.spec import StatementSpec

SPEC = StatementSpec(
    head="slide",
    where="step",
    says="Slides one thing into, under, over or through another; a strip through several slits.",
    example="slide drawer into sleeve",
    joins=(
        "into",
        "under",
        "over",
        "through",
        "on",
    ),
    bare=1,
)
