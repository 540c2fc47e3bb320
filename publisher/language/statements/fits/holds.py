"""``holds``: a room and its contents, the room named first."""

from publisher.language.statements.spec import VerbSpec

SPEC = VerbSpec(
    verb="holds",
    says="The other goes into the thing, with so much to spare across and down.",
    example="tray holds tea light with at least 2 mm to spare",
)
