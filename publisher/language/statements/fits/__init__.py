"""What a ``fits`` fence can say."""

from __future__ import annotations

from publisher.language.statements.fits import (
    clears,
    closes_to,
    covers,
    goes_into,
    holds,
    lies_flush_with,
    mails_as,
    opens_to,
    reaches,
    slides_on,
    stays_inside,
    tucks_under,
)
from publisher.language.statements.spec import VerbSpec

FITS: dict[str, VerbSpec] = {
    spec.verb: spec
    for spec in (
        clears.SPEC,
        closes_to.SPEC,
        covers.SPEC,
        goes_into.SPEC,
        lies_flush_with.SPEC,
        reaches.SPEC,
        slides_on.SPEC,
        stays_inside.SPEC,
        tucks_under.SPEC,
        holds.SPEC,
        mails_as.SPEC,
        opens_to.SPEC,
    )
}
