"""``2 mm taper`` or ``20 degrees taper``: how much the far edge draws in at each end."""

from __future__ import annotations

import math

from msgspec import Struct

from publisher.diagnostics import Span
from publisher.model.bench import Bench
from publisher.model.findings import Refused, refuse
from publisher.model.statements.phrases import Phrases


class Taper(Struct, frozen=True):
    mm: float
    span: Span

    def too_much(self, edge_mm: float) -> Refused:
        """The two ends would cross."""
        return refuse(
            "too-much-taper",
            "the taper at both ends takes more than the whole edge",
            self.span,
            numbers=(("taper_mm", self.mm), ("edge_mm", edge_mm)),
        )


def read_taper(bench: Bench, phrases: Phrases, depth_mm: float) -> Taper:
    """In mm along the edge; an angle is measured from the square end."""
    phrase = phrases.labelled("taper")
    if phrase is None:
        return Taper(0.0, phrases.span)
    value = bench.value(phrase)
    if not bench.is_angle(value):
        return Taper(bench.not_negative(value, "taper"), value.span)
    angle = bench.degrees(value)
    if not 0.0 <= angle < 90.0:
        raise refuse("wrong-angle", f"a taper is under 90 degrees, not {angle:g}", value.span)
    return Taper(depth_mm * math.tan(math.radians(angle)), value.span)
