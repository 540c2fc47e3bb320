"""``stays inside``: what must not stick out."""

from publisher.language.statements.spec import VerbSpec

SPEC = VerbSpec(
    verb="stays inside",
    says="The thing lies within the outline of the other.",
    example="large step of page stays inside page when closed with at least 5 mm to spare",
)
