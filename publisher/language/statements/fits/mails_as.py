"""``mails as``: the post that it goes by."""

from publisher.language.statements.spec import VerbSpec

SPEC = VerbSpec(
    verb="mails as",
    says="Closed and filled, the thing keeps the published limits of that kind of post.",
    example="envelope mails as us letter",
    takes="name",
    margin=False,
)
