"""What closed lines enclose, where lines may cross and lie in each other: letters, drawings."""

from __future__ import annotations

from collections.abc import Sequence

from publisher.geometry.arrangement import Arrangement
from publisher.geometry.path import Path, Region
from publisher.geometry.rings import bounded, settled


def filled(rings: Sequence[Path], even_odd: bool = False) -> tuple[Region, ...]:
    """The regions that the rings fill, from top to bottom.

    By the nonzero rule a point lies inside where the rings go round it more often one way than
    the other, by the even-odd rule where they go round it an odd number of times (both as in
    SVG's fill-rule).
    """
    segments = [segment for ring in rings for segment in ring.segments]

    def build(hair_mm: float) -> tuple[Region, ...]:
        arrangement = Arrangement([segments], hair_mm)
        windings = arrangement.windings(0)
        left, right = windings % 2 == 1 if even_odd else windings != 0
        return bounded(arrangement, left, right)

    return settled(build) if segments else ()
