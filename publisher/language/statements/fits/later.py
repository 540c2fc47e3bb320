"""Statements of fit that the language knows and nothing proves yet."""

from publisher.language.statements.spec import VerbSpec

OPENS_TO = VerbSpec(
    verb="opens to",
    says="How far the piece opens.",
    example="page opens to 180 degrees",
    takes="angle",
    margin=False,
    built=False,
)
SPECS = (OPENS_TO,)
