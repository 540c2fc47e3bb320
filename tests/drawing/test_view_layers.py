"""A card with a window and a liner behind it, folded: what shows through, and what is drawn."""

from __future__ import annotations

from functools import cache

import pytest

from publisher.assembly import Story
from publisher.drawing.space_view import draw_cover, draw_story
from publisher.model.types import Pattern
from tests.compiled import compile_text, told_by
from tests.drawing.view_scenes import area, fills, named, strokes

TEXT = """
```piece card, in card
panels   across, 140 mm high, mountain: back = 100 mm, front = 100 mm
window   rectangle, 50 x 60 mm, at middle of front, called pane
```

```piece liner, in patterned paper
outline  rectangle, 90 x 130 mm
draw     along 65 mm below top, from 30 mm right of left to 60 mm right of left
glue     along each edge, 4 mm wide, on front face
```

## Make it

```step
score    card
turn     over card
glue     liner behind front of card
fold     front of card
```
"""


@cache
def told() -> tuple[Pattern, Story]:
    return told_by(TEXT)


def test_the_liner_shows_through_the_window_of_the_closed_card() -> None:
    """The liner's plane lies beyond that of the back half, which has no thickness; the order of
    the layers is what counts."""
    pattern, story = told()
    cover = draw_cover(pattern, story)
    seen = {f.id for f in fills(cover, "front", "back")}
    assert any("liner" in name for name in seen)
    assert not any("back" in name.removeprefix("face-card-1-") for name in seen if "card" in name)


def test_what_is_drawn_is_seen_where_its_face_is_seen() -> None:
    pattern, story = told()
    cover = draw_cover(pattern, story)
    [liner] = [area(f) for f in fills(cover, "front") if "liner" in f.id]
    [line] = strokes(cover, "engrave")
    assert line.id == "engrave-liner-1"
    # The window is 50 x 60 and the line 30 long, so all of it is seen, inside what is seen of
    # the liner.
    for path in line.paths:
        for segment in path.segments:
            x, y = segment.start
            x0, y0, x1, y1 = liner.bounds
            assert x0 < x < x1
            assert y0 < y < y1


def test_what_is_drawn_is_not_seen_from_behind() -> None:
    pattern, story = told()
    glued = named(draw_story(pattern, story), "step-01c")
    assert strokes(glued, "engrave") == []


def test_who_folds_a_ring_of_paper_gets_one_arrow() -> None:
    """A pop-up step follows the half that the hand turns; pushed out, it gets one of its own."""
    outcome = compile_text(
        """
```piece card, in card
panel  floor, 150 x 100 mm
panel  wall, on top of floor, 100 mm deep, valley
score  between floor and wall, called gutter
form   pop-up step, fold = gutter, span = 50 mm, rise = 50 mm, tread = 30 mm, called step
```

## Make it

```step
score  card
fold   wall of card by 90 degrees
push   step of card
close  card
```
"""
    )
    assert outcome.pattern is not None
    assert outcome.story is not None
    drawn = draw_story(outcome.pattern, outcome.story)
    arrows = {d.name: [f.role for f in fills(d, "arrow-fold", "arrow-move")] for d in drawn}
    assert arrows == {
        "step-01a": [],
        "step-01b": ["arrow-fold"],
        "step-01c": ["arrow-move"],
        "step-01d": ["arrow-fold"],
    }


@pytest.mark.parametrize("wall", ["front", "back", "left", "right"])
def test_the_cover_shows_the_side_with_the_label(wall: str) -> None:
    pattern, story = told_by(f"""
```piece box, in card
form   tray, inside = 60 x 60 x 40 mm
```

```piece label, in patterned paper
outline rectangle, 30 x 20 mm
```

```step
score  box
turn   over box
fold   each wall of box
fold   each tab of box
glue   each tab of box
glue   label to front face of {wall} wall of box
```
""")
    assert any(i.id == "face-label-1-label" for i in draw_cover(pattern, story).items)
