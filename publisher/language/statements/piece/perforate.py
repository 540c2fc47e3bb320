"""``perforate``: a line to tear along."""

from publisher.language.statements.spec import StatementSpec

SPEC = StatementSpec(
    head="perforate",
    where="piece",
    says="A line of small cuts to tear along. It is drawn as a slit is.",
    example="perforate along 20 mm below top, from left to right",
    words=("across", "down", "half round", "square", "vee", "artwork", "turned", "mirrored"),
    labels=("long", "wide", "high", "deep"),
    joins=(
        "along",
        "at",
        "from",
        "to",
        "by",
        "through",
        "with",
        "between",
        "on",
        "facing",
        "from file",
    ),
    bare=1,
    offsets=("in from",),
)
