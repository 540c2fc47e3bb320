"""``lies flush with``: edges in line."""

from publisher.language.statements.spec import VerbSpec

SPEC = VerbSpec(
    verb="lies flush with",
    says="The edges of both lie in one line.",
    example="top of mat lies flush with top of flap of wallet",
    margin=False,
)
