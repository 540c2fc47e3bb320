"""``closes to``: the size when closed."""

from publisher.language.statements.spec import VerbSpec

SPEC = VerbSpec(
    verb="closes to",
    says="Closed, the piece measures this on its outside.",
    example="tray closes to 80.8 x 80.8 x 40.4 mm",
    takes="size",
    margin=False,
)
