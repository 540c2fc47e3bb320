"""Glue that an earlier picture spread is still seen until something holds to it."""

from __future__ import annotations

import pytest

from publisher.assembly import Mark
from publisher.drawing.space_view import draw_told
from publisher.drawing.space_view.glued import wet_before
from publisher.drawing.space_view.telling import tell
from tests.compiled import told_by
from tests.drawing.test_view_content import NAMES, told
from tests.drawing.view_scenes import fills

TRAY = """
```piece tray, in card
form   tray, inside = 60 x 40 x 30 mm
```

```step
score  tray
turn   over tray
fold   front wall and back wall of tray
fold   each tab of tray
glue   tab 1 and tab 2 of tray
fold   left wall of tray
fold   right wall of tray
```
"""


def test_a_tab_is_wet_until_its_wall_comes_to_it() -> None:
    pattern, story = told_by(TRAY)
    pattern = story.handled or pattern
    wet = wet_before(tell(pattern, story).frames)
    assert [sorted(n for m in one for n in m.names) for one in wet[-2:]] == [
        ["tab 1", "tab 2"],
        ["tab 2"],
    ]
    assert not any(wet[:-2])
    drawings = [drawing for _, drawing in draw_told(pattern, story)]
    # the glue of tab 2 looks away from the viewer
    shown = [[f.id for f in fills(drawing, "glue-wet")] for drawing in drawings[-2:]]
    assert shown == [["glue-wet-tray-1-tab-1-tab-1"], []]
    assert ["glue-wet" in drawing.signs for drawing in drawings[-2:]] == [True, False]
    assert not fills(drawings[-3], "glue-wet")  # there it is spread


@pytest.mark.parametrize("name", NAMES)
def test_no_glue_is_forgotten_and_none_stays_when_it_holds(name: str) -> None:
    pattern, story, drawings = told(name)
    frames = tell(pattern, story).frames
    spread: set[tuple[str, str]] = set()
    for frame, wet, drawing in zip(frames, wet_before(frames), drawings, strict=True):
        held = {
            (body, name)
            for bond in frame.before.bonds
            for body, facet in (bond.first, bond.second)
            for name in (bond.zone, facet)
        }
        assert {(m.body, n) for m in wet for n in m.names} == spread - held
        assert ("glue-wet" in drawing.signs) <= bool(wet)
        for mark in frame.motions:
            if isinstance(mark, Mark) and mark.what == "glue":
                spread |= {(mark.body, name) for name in mark.names}
