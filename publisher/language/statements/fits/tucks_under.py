"""``tucks under``: a flap under an edge or through a slit."""

from publisher.language.statements.spec import VerbSpec

SPEC = VerbSpec(
    verb="tucks under",
    says="The thing reaches under the other, by so much.",
    example="flap of wallet tucks under band with at least 10 mm to spare",
)
