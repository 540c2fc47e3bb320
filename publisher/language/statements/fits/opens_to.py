"""``opens to``: how far it opens."""

from publisher.language.statements.spec import VerbSpec

SPEC = VerbSpec(
    verb="opens to",
    says="Closed flat and opened so far, everything between its halves follows, nothing meets"
    " on the way, and closed nothing sticks out.",
    example="page opens to 180 degrees",
    takes="angle",
    margin=False,
)
