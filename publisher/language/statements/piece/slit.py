"""``slit``: a cut without width."""

from publisher.language.statements.spec import StatementSpec

SPEC = StatementSpec(
    head="slit",
    where="piece",
    says="A cut without width: along a line, at a point, from point to point, or as a tongue that "
    "is open on one side.",
    example="slit along 5 mm above bottom of flap, from left of flap to right of flap",
    words=(
        "across",
        "down",
        "half round",
        "square",
        "vee",
        "artwork",
        "turned",
        "mirrored",
        "evenly",
    ),
    labels=("long", "wide", "high", "deep", "times", "apart", "short"),
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
