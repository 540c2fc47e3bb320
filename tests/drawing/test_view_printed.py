"""Paper printed on one face: as it is laid, the picture shows which face goes down."""

from __future__ import annotations

import pytest

from publisher.drawing.space_view import draw_story
from tests.compiled import told_by
from tests.drawing.test_view_content import told
from tests.drawing.view_scenes import fills, named

LAID = [
    ("leaf-card", "step-02b", "pattern-through"),
    ("table-sign", "step-02b", "pattern-through"),
    ("sliding-box", "step-03b", "pattern"),
]


@pytest.mark.parametrize(("name", "step", "role"), LAID)
def test_it_is_seen_which_face_of_patterned_paper_goes_down(
    name: str, step: str, role: str
) -> None:
    drawing = named(told(name)[2], step)
    assert fills(drawing, "glue-through")
    printed = fills(drawing, "pattern", "pattern-through")
    assert {f.role for f in printed if not f.id.endswith("-corner")} == {role}
    assert ("pattern-through" in drawing.signs) == (role == "pattern-through")


SLEEVE = """
```piece sleeve, in patterned paper
panels   across, 90 mm high, mountain: back = 60 mm, front = 60 mm
tab      on right of front, 14 mm deep, mountain, meets left of back, called seam
```

```step
score    sleeve
turn     over sleeve
fold     seam of sleeve
glue     seam of sleeve
```
"""


def test_glue_on_the_face_that_is_seen_takes_its_pattern_away() -> None:
    folded, glued = draw_story(*told_by(SLEEVE))[-2:]
    assert [f.id for f in fills(folded, "pattern-through")] == ["pattern-sleeve-1-seam"]
    assert fills(glued, "glue")
    assert fills(glued, "pattern", "pattern-through") == []
