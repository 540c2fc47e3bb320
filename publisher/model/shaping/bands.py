"""A strip that goes round a closed body: its panels from the body's size and the ease."""

from __future__ import annotations

from typing import Literal

from msgspec import Struct

from publisher.model.types import Term


class BandPlan(Struct, frozen=True):
    """Panel lengths in the order of the strip, the girth they close to, and the whole sum."""

    lengths: tuple[float, float, float, float]
    loop_mm: float
    terms: tuple[Term, ...]


def band_plan(
    body: str,
    body_mm: tuple[float, float, float],
    direction: Literal["across", "down"],
    ease_mm: float,
    overlap_mm: float,
) -> BandPlan:
    """Four panels: the body's face, its side, its face, its side.

    ``body_mm`` is the closed body's outside (across, down, deep), caliper counted. The folds
    of the band lie on its inside, so each panel is as long as what it covers plus the ease in
    that direction; the ease is what is free there in all, not at each side. A band ``down``
    runs round height and depth, a band ``across`` round width and depth. The inside girth is
    2 x (face + ease) + 2 x (depth + ease).
    """
    face = body_mm[0] if direction == "across" else body_mm[1]
    deep = body_mm[2]
    long, short = face + ease_mm, deep + ease_mm
    ease = (Term("ease", ease_mm),) if ease_mm else ()
    turn = (Term(f"{body}, {direction}", face), *ease, Term(f"{body}, deep", deep), *ease)
    overlap = (Term("overlap", overlap_mm),) if overlap_mm else ()
    return BandPlan((long, short, long, short), 2 * (long + short), (*turn, *turn, *overlap))
