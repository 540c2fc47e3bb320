"""``slides on``: a sleeve or lid and what it covers."""

from publisher.language.statements.spec import VerbSpec

SPEC = VerbSpec(
    verb="slides on",
    says="The thing slides over the other, with so much play in all.",
    example="sleeve slides on drawer when closed with 0.5 mm to 2 mm to spare",
)
