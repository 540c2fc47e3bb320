"""What hands do that moves nothing: it is told, drawn, listed and timed."""

from __future__ import annotations

from itertools import pairwise

import pytest
import shapely
from shapely.geometry.base import BaseGeometry

from publisher.assembly.types import Mark
from publisher.booklet.facts import time_in_all
from publisher.booklet.orders import order
from publisher.booklet.supplies import supplies_for
from publisher.drawing.hatch import area_of
from publisher.drawing.space_view import draw_story, draw_told
from publisher.drawing.space_view.by_hand import ByHand, held_at
from publisher.drawing.types import Fill, Label
from tests.compiled import told_by
from tests.drawing import test_view_content as content
from tests.drawing.view_scenes import fills

TEXT = """
```piece box, in card
panel  base, 80 x 60 mm
panel  wall, on top of base, 40 mm deep, mountain
```

```step
colour base, on front face "a green pencil"
stamp  wall, on front face "a leaf stamp"
hold   wall, 30 seconds
dry    box, 20 minutes
dry    box, 1 1/2 hours
```
"""


WITHIN = """
```piece corner, in card
panels   across, 60 mm high, mountain: back = 60 mm, front = 60 mm
tab      on bottom of front, 10 mm deep, 10 mm taper, mountain, meets bottom of back
```

```step
score    corner
turn     over corner
fold     tab 1 of corner
glue     tab 1 of corner
fold     front of corner
hold     tab 1 of corner, 30 seconds
```
"""


def test_what_lies_within_is_pressed_from_outside() -> None:
    """The tab is hidden by the back: the sign stands where it lies, the time at the whole."""
    held = draw_story(*told_by(WITHIN))[-1]
    assert "hold" in held.signs
    assert [i.text for i in held.items if isinstance(i, Label)] == ["corner, 30 seconds"]
    assert sum(isinstance(i, Fill) and i.id == "hold" for i in held.items) == 1


def test_what_lies_within_each_copy_is_pressed_at_its_own_place() -> None:
    two = WITHIN.replace("corner, in", "corner, 2 copies, in")
    held = draw_story(*told_by(two))[-1]
    first, second = (area_of(i.rings) for i in fills(held, "sign") if i.id == "hold")
    assert shapely.distance(first, second) > 10.0


def test_time_tools_words_and_pictures_follow() -> None:
    made, story = told_by(TEXT)
    marks = [frame.motions[0] for frame in story.frames]
    assert all(isinstance(m, Mark) for m in marks)
    assert [m.what for m in marks if isinstance(m, Mark)] == [
        "colour",
        "colour",
        "hold",
        "dry",
        "dry",
    ]
    assert all(frame.before == frame.after for frame in story.frames[1:])
    assert [order(a) for a in made.steps[0].actions] == [
        "Colour the base of the box with a green pencil, on the front face",
        "Stamp the wall of the box with a leaf stamp, on the front face",
        "Hold the wall of the box for 30 seconds",
        "Let the box dry for 20 minutes",
        "Let the box dry for 90 minutes",
    ]
    assert time_in_all(made).endswith(", and 110 minutes to dry")
    listed = {supply.what for supply in supplies_for(made, ())}
    assert {"A green pencil", "A leaf stamp", "Small clips or pegs"} <= listed

    colour, stamp, hold, dry, _ = draw_story(made, story)
    assert "colour" in colour.signs
    assert "Colour the base of the box on its front face" in colour.alt
    assert "hold" in hold.signs
    assert "hold for 30 seconds" in hold.alt
    assert "clock" in dry.signs
    assert "Let the box dry for 20 minutes" in dry.alt
    base, wall = (
        shapely.union_all([area_of(f.rings) for f in fills(d, "colour")]) for d in (colour, stamp)
    )
    assert base.area > 100.0 < wall.area
    assert base.intersection(wall).area < 0.1 * wall.area
    (sign,) = [i for i in hold.items if isinstance(i, Fill) and i.id == "hold"]
    assert wall.intersects(area_of(sign.rings))


@pytest.mark.parametrize("name", content.NAMES)
def test_a_strip_is_held_all_along(name: str) -> None:
    """What is held has a sign; more than one on the same strip stand evenly."""
    pattern, story, _ = content.told(name)
    for frame, drawing in draw_told(pattern, story):
        held = [m for m in frame.motions if isinstance(m, Mark) and m.what == "hold"]
        at = [area_of(f.rings).centroid for f in fills(drawing, "sign") if f.id == "hold"]
        assert bool(at) == bool(held)
        if sum(len(m.names) or 1 for m in held) == 1:
            steps = [shapely.distance(a, b) for a, b in pairwise(at)]
            assert not steps or max(steps) < 1.1 * min(steps), drawing.name


LONG = """
```piece bag, in card
panels   across, 90 mm high, mountain: back = 40 mm, front = 40 mm
tab      on right of front, 8 mm deep, mountain, meets left of back, called seam
```

```step
score    bag
turn     over bag
fold     seam of bag
glue     seam of bag
fold     front of bag
hold     seam of bag, 1 minute
```
"""


def paper_of(fill: Fill) -> BaseGeometry:
    return area_of(fill.rings)


def test_a_long_seam_is_held_at_equal_distances() -> None:
    held = draw_story(*told_by(LONG))[-1]
    at = [area_of(i.rings).centroid for i in held.items if isinstance(i, Fill) and i.id == "hold"]
    assert len(at) in (2, 3)
    steps = [shapely.distance(a, b) for a, b in pairwise(at)]
    assert max(steps) - min(steps) < 1.0
    assert min(steps) > 12.0
    (dot,) = (area_of(f.rings) for f in fills(held, "sign") if f.id.startswith("dot-"))
    (over,) = (a for a in map(paper_of, fills(held, "front", "back")) if a.contains(at[0]))
    assert over.contains(dot)  # the time points at the paper that is pressed


SMALL = """
```piece poster, in card
outline  rectangle, 190 x 280 mm
```

```piece dot, in card
outline  circle, {across} mm across
```

```step
glue     dot to poster
hold     dot, 1 minute
```
"""


@pytest.mark.parametrize("across", [6, 30])
def test_what_is_small_in_its_picture_is_held_too(across: int) -> None:
    held = draw_story(*told_by(SMALL.format(across=across)))[-1]
    assert [f.id for f in fills(held, "sign")] == ["hold"]
    assert "hold" in held.signs


def test_a_strip_that_is_short_on_paper_is_no_spot() -> None:
    overlap = shapely.box(0.0, 0.0, 31.0, 3.0)
    assert len(held_at([ByHand("sleeve", "hold", "overlap", overlap)])) == 2
    spot = shapely.box(0.0, 0.0, 8.0, 5.0)
    assert len(held_at([ByHand("sleeve", "hold", "spot", spot)])) == 1
