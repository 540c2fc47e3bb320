"""The cover: what moved last is drawn part of its way back, unless glue holds it."""

from __future__ import annotations

import pytest

from publisher.drawing.space_view import draw_cover
from tests.compiled import told_by

HEAD = """
```piece roof, in card
form   pyramid, sides = 4, side = 60 mm, height = 60 mm, tab = 10 mm
```

```step
score  roof
turn   over roof
fold   each seam of roof
"""


@pytest.mark.parametrize("glued", [True, False])
def test_walls_that_are_glued_to_each_other_do_not_stand_open(glued: bool) -> None:
    glue = "glue   each seam of roof\n" if glued else ""
    pattern, story = told_by(f"{HEAD}{glue}fold   each wall of roof\n```\n")
    assert bool(story.end.bonds) == glued
    assert ("lifted a little" in draw_cover(pattern, story).alt) != glued
