"""``score`` in a piece: a line that will fold."""

from publisher.language.statements.spec import StatementSpec

SPEC = StatementSpec(
    head="score",
    where="piece",
    says="A line to be scored, and which way it folds: along a line, or from point to point, in "
    "an arc where ‘by’ says how far it stands off the straight way. ‘double’ makes two for a "
    "spine, ‘short’ stops it before a raw edge.",
    example="score along 5 mm above bottom of flap, mountain by 90 degrees",
    words=("mountain", "valley", "double", "across", "down", "artwork", "turned", "mirrored"),
    labels=("short", "apart", "wide", "high"),
    joins=(
        "along",
        "between",
        "from",
        "to",
        "by",
        "through",
        "with",
        "on",
        "in",
        "at",
        "from file",
    ),
    bare=1,
    offsets=("in from",),
)
