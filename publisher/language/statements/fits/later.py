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
HOLDS = VerbSpec(
    verb="holds",
    says="What the closed thing must hold.",
    example="tray holds tea light",
    built=False,
)
MAILS_AS = VerbSpec(
    verb="mails as",
    says="Which post it goes by.",
    example="envelope mails as letter",
    takes="name",
    margin=False,
    built=False,
)

SPECS = (OPENS_TO, HOLDS, MAILS_AS)
