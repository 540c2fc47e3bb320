"""A page with a pop-up step, glued into a cover that is larger: both fold about one line."""

from __future__ import annotations

import pytest

from publisher.assembly import Story
from publisher.geometry.space import lift
from tests.compiled import codes, compile_text

TEXT = """
```piece page, in card
panel    lower half, 150 x 100 mm
panel    upper half, on top of lower half, 100 mm deep, valley
score    between upper half and lower half, called gutter
form     pop-up step, fold = gutter, span = 50 mm, rise = {rise} mm, tread = 30 mm, called step
glue     along top of upper half, 20 mm wide, on back face
glue     along bottom of lower half, 20 mm wide, on back face
```

```piece cover, in card
panels   down, 154 mm wide, mountain: back half = 102 mm, front half = 102 mm
```

```fits
page opens to 180 degrees
```

## Make it

```step
score    page and cover
fold     upper half of page by 90 degrees
push     step of page
close    page
open     page
turn     over cover
glue     page behind cover
```

Let the glue dry.

```step
close    cover
open     cover by 90 degrees
```
"""

LOWER = "lower half"
"""The facet that the step hangs on below; the page's first panel."""


def story(rise: float) -> Story:
    outcome = compile_text(TEXT.replace("{rise}", str(rise)))
    assert codes(outcome) == []
    assert outcome.story is not None
    return outcome.story


@pytest.mark.parametrize("rise", [35, 50, 55, 60])
def test_the_step_rises_with_the_cover(rise: float) -> None:
    """Whatever the step's size, and so the order in which the facets of the page stand."""
    end = story(rise).end
    angles = dict(end.body("page-1").angles)
    assert list(angles.values()) == pytest.approx([90.0] * len(angles))
    assert dict(end.body("cover-1").angles) == {"front half": pytest.approx(90.0)}


def test_the_gutter_lies_on_the_spine_closed_and_open() -> None:
    told = story(50)
    for frame in told.frames[-2:]:
        page, cover = (frame.after.body(b) for b in ("page-1", "cover-1"))
        # The gutter is the top of the lower half, y 100; the spine is 102 down the cover, and
        # the page stands 2 in from its edges.
        half = dict(page.facets)[LOWER]
        gutter = half.apply(lift((0.0, 100.0)))
        spine = cover.facet_pose("back half").apply(lift((2.0, 102.0)))
        across = cover.facet_pose("back half").apply(lift((152.0, 102.0)))
        ends = [gutter, half.apply(lift((150.0, 100.0)))]
        assert sorted(ends) == [pytest.approx(e, abs=1e-9) for e in sorted([spine, across])]


def test_glue_bonds_the_facet_that_it_lies_on() -> None:
    """The lower half is parted by the step: the tread is one facet, the paper with the glue
    another."""
    told = story(60)
    bonds = {b.zone: b for b in told.end.bonds if b.first[0] == "page-1"}
    for zone, y in (("glue 1", 10.0), ("glue 2", 190.0)):
        facet = bonds[zone].first[1]
        page = told.end.body("page-1")
        there = page.facet_pose(facet).apply(lift((75.0, y)))
        cover = bonds[zone].second
        plane = told.end.body(cover[0]).facet_pose(cover[1])
        assert plane.inverse().apply(there)[2] == pytest.approx(0.0, abs=1e-9)


def test_what_lies_on_the_table_stays_there() -> None:
    """Closing moves the half that stands up; opening brings it back."""
    told = story(50)
    close, again = told.frames[3:5]
    assert [f.action.verb for f in (close, again)] == ["close", "open"]
    before, after = (f.after.body("page-1").facet_pose(LOWER) for f in (close, again))
    assert before.normal == pytest.approx((0.0, 0.0, 1.0))
    assert after.shift == pytest.approx(before.shift)
