"""``reaches``: what must get there."""

from publisher.language.statements.spec import VerbSpec

SPEC = VerbSpec(
    verb="reaches",
    says="The thing is long enough to get to the other.",
    example="flap of envelope reaches pocket of envelope with at least 10 mm to spare",
)
