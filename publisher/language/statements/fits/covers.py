"""``covers``: what must not show."""

from publisher.language.statements.spec import VerbSpec

SPEC = VerbSpec(
    verb="covers",
    says="The thing hides the other, with so much beyond it on every side.",
    example="backing covers pane of lantern with at least 3 mm to spare",
)
