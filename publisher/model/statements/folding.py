"""Which way a new panel folds, and how far: shared by panels, panel, tab and score."""

from __future__ import annotations

from publisher.model.bench import Bench
from publisher.model.findings import refuse
from publisher.model.statements.phrases import Phrases
from publisher.model.types import Bend

FLAT_DEG = 180.0


def bend_and_angle(bench: Bench, phrases: Phrases) -> tuple[Bend, float]:
    """``mountain by 90 degrees``; flat where no angle is said."""
    bend = phrases.bend()
    if bend is None:
        raise refuse(
            "missing-phrase",
            "which way does it fold? Add ‘mountain’ or ‘valley’",
            phrases.statement.head_span,
            notes=(
                "A mountain fold brings the back faces together, a valley fold the front faces",
            ),
        )
    by = phrases.by()
    if by is None:
        return bend, FLAT_DEG
    angle = bench.degrees(by.value)
    if not 0.0 < angle <= 180.0:
        raise refuse(
            "wrong-angle",
            f"a fold travels more than 0 and at most 180 degrees, not {angle:g}",
            by.value.span,
            numbers=(("angle_deg", angle),),
        )
    return bend, angle
