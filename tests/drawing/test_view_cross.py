"""Two sheets crossed in their slots and let down into a tray, with a lid over all."""

from __future__ import annotations

from functools import cache

import shapely

from publisher.assembly import Story
from publisher.drawing.space_view import draw_cover, draw_story
from publisher.model.types import Pattern
from tests.compiled import told_by
from tests.drawing.view_scenes import area, fills, ink, named, strokes

TEXT = """
```piece tray, in card
form     tray, inside = 80 x 80 x 40 mm
```

```piece lid, in card
form     lid, box = tray, height = 20 mm
```

```piece divider, 2 copies, in card
form     divider, room = 80 x 40 mm
```

## Make it

```step
score    tray
turn     over tray
fold     each wall of tray
fold     each tab of tray
glue     each tab of tray
score    lid
turn     over lid
fold     each wall of lid
fold     each tab of lid
glue     each tab of lid
```

Let the glue dry.

```step
slide    slot of divider 1 into slot of divider 2, called cross
slide    cross into tray
slide    lid over tray
```
"""


@cache
def told() -> tuple[Pattern, Story]:
    return told_by(TEXT)


def test_the_arrow_does_not_hide_the_slot_of_what_comes_down() -> None:
    pattern, story = told()
    drawing = named(draw_story(pattern, story), "step-02a")
    [arrow] = [area(f) for f in fills(drawing, "arrow-move")]
    sheet = shapely.union_all([area(f) for f in fills(drawing, "front-moving", "back-moving")])
    slot = shapely.difference(shapely.convex_hull(sheet), sheet)
    slot = slot.buffer(-0.02).buffer(0.02)  # edges are rounded to some micrometres
    assert not slot.is_empty
    assert slot.area < 4.0  # the slot alone, as wide as it is drawn open
    assert shapely.distance(arrow, slot) > 1.0


def test_the_lid_is_set_down_beside_what_it_would_hide() -> None:
    pattern, story = told()
    cover = draw_cover(pattern, story)
    assert "the lid set down beside the rest" in cover.alt
    seen = {f.id.split(" ")[0].rpartition("-")[0] for f in fills(cover, "front", "back")}
    assert any("divider" in name for name in seen), seen


def test_slots_that_act_are_seen_to_be_open() -> None:
    """Each is as wide as the card is thick, 0.1 mm on paper: drawn so, it is one dark line."""
    pattern, story = told()
    drawing = named(draw_story(pattern, story), "step-02a")
    faces = fills(drawing, "front", "back", "front-moving", "back-moving")
    dividers = [area(f) for f in faces if "divider" in f.id]
    ends = ink(*strokes(drawing, "outline", "outline-moving")).buffer(0.25)
    gaps = [shapely.difference(shapely.convex_hull(d), d) for d in dividers]
    assert sum(shapely.difference(gap, ends).area > 0.3 for gap in gaps) == 2
