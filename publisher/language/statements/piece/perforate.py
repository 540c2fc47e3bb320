"""``perforate``: a line to tear along."""

from msgspec.structs import replace

from publisher.language.statements.piece.slit import SPEC as SLIT

SPEC = replace(
    SLIT,
    head="perforate",
    says="A line of small cuts to tear along. It is drawn as a slit is.",
    example="perforate along 20 mm below top, from left to right",
    later=(),
)
