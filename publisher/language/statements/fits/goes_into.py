"""``goes into``: contents and their room."""

from publisher.language.statements.spec import VerbSpec

SPEC = VerbSpec(
    verb="goes into",
    says="The thing goes into the other, with so much to spare across and down.",
    example="stack goes into drawer with 2 mm to 6 mm to spare",
)
