"""``band``: a strip that goes round a closed thing."""

from publisher.language.statements.spec import StatementSpec

SPEC = StatementSpec(
    head="band",
    where="piece",
    says="A strip round something closed; its length and its folds follow from what it holds.",
    example="band down, around drawer when closed, 80 mm wide, 12 mm overlap, 1 mm ease",
    words=("across", "down"),
    labels=("wide", "overlap", "ease", "play"),
    joins=("around",),
)
