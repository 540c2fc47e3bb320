"""A scored blank closes to what a maker's rule of thumb says."""

from __future__ import annotations

import pytest

from publisher.assembly import assemble, closed_size, finished_size, layers
from tests.assembly.build import do, part, pattern, strip

INCH = 25.4


def test_seven_by_five_scored_at_two_and_five_closes_to_five_by_three() -> None:
    """Common practice, no source: a 7 by 5 in blank scored at 2 and 5 in closes to 5 by 3 in,
    and its two flaps overlap by 1 in."""
    blank = strip("blank", [2 * INCH, 3 * INCH, 2 * INCH], 5 * INCH)
    assert blank.bounds == pytest.approx((0, 0, 7 * INCH, 5 * INCH))
    folder = pattern([blank], do("fold", part("blank")))
    story, findings = assemble(folder)
    assert findings == []
    caliper = blank.stock.caliper_mm
    size = finished_size(folder, story.end)
    assert size == pytest.approx((3 * INCH, 5 * INCH, 3 * caliper))
    assert size == pytest.approx(closed_size(blank))
    papers = [
        layers(folder, story.end, ("blank-1", "b"), ((2 + x) * INCH, 2.5 * INCH)).papers
        for x in (0.5, 0.99, 1.01, 1.5, 1.99, 2.01, 2.5)
    ]
    # Two papers beside, three over the inch in the middle.
    assert papers == [2, 2, 3, 3, 3, 2, 2]
