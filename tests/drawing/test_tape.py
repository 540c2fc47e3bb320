"""Double-sided tape in place of glue: its own hatch, words, order and supplies."""

from __future__ import annotations

from publisher.assembly.types import Mark
from publisher.booklet.orders import order
from publisher.booklet.supplies import supplies_for
from publisher.drawing.space_view import draw_story
from publisher.drawing.types import Fill
from tests.compiled import told_by

TEXT = """
```piece wallet, in card
panel  back, 100 x 70 mm
panel  pocket, on bottom of back, 60 mm deep, mountain
glue   along left and right of pocket, 8 mm wide, on back face, meets back, called strip
```

```step
turn   over wallet
{verb} each strip of wallet
fold   pocket of wallet
```
"""


def test_tape_holds_as_glue_does_and_is_told_as_tape() -> None:
    made, story = told_by(TEXT.replace("{verb}", "tape"))
    assert {bond.by for bond in story.end.bonds} == {"tape"}
    (mark,) = [m for m in story.frames[1].motions if isinstance(m, Mark)]
    assert (mark.what, mark.names, mark.face) == ("tape", ("strip 1", "strip 2"), "back")
    drawing = draw_story(made, story)[1]
    assert "tape" in drawing.signs
    assert not {"glue", "glue-through"} & set(drawing.signs)
    taped = [i for i in drawing.items if isinstance(i, Fill) and i.role == "tape"]
    assert len([i for i in taped if not i.id.startswith("close-up")]) == 2
    assert drawing.alt.startswith("Put double-sided tape on the back face of the pocket")
    assert order(made.steps[0].actions[1]).startswith("Put double-sided tape on")
    assert [s.what for s in supplies_for(made, ()) if s.kind == "glue"] == ["Double-sided tape"]


def test_glue_is_told_as_glue() -> None:
    made, story = told_by(TEXT.replace("{verb}", "glue"))
    drawing = draw_story(made, story)[1]
    assert "glue" in drawing.signs
    assert "tape" not in drawing.signs
    assert [s.what for s in supplies_for(made, ()) if s.kind == "glue"] == ["Paper glue"]
