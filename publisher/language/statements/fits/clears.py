"""``clears``: what must not touch."""

from publisher.language.statements.spec import VerbSpec

SPEC = VerbSpec(
    verb="clears",
    says="The thing keeps away from the other, by so much.",
    example="notch 1 of sleeve clears overlap of sleeve with at least 4 mm to spare",
)
