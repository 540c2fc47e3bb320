"""On pads: so far off, all over what lies over paper, and nowhere over an edge."""

from __future__ import annotations

import math

import pytest
import shapely

from publisher.assembly.types import Mark, MoveMotion, Story
from publisher.booklet.orders import order
from publisher.booklet.supplies import supplies_for
from publisher.geometry.flatten import flattened
from publisher.model.types import Pattern
from tests.compiled import compile_text, told_by

TEXT = """
```sizes
pads = 8 x 6 x {thick} mm
```

```piece card, in card
outline  rectangle, 105 x 148 mm
```

```piece leaf, in card
outline  {shape}
```

```step
mount    leaf on card with pads
```
"""


def mounted(shape: str = "ellipse, 70 x 100 mm", thick: float = 3.0) -> tuple[Pattern, Story]:
    return told_by(TEXT.replace("{shape}", shape).replace("{thick}", f"{thick:g}"))


@pytest.mark.parametrize("thick", [1.0, 3.0])
def test_it_stands_as_far_off_as_the_pads_are_thick(thick: float) -> None:
    made, story = mounted(thick=thick)
    card, leaf = (story.end.body(f"{n}-1").facets[0][1] for n in ("card", "leaf"))
    caliper = made.pieces[0].stock.caliper_mm
    assert math.isclose(leaf.shift[2] - card.shift[2], thick + caliper)
    assert [(b.by, b.first[0], b.second[0]) for b in story.end.bonds] == [
        ("pads", "leaf-1", "card-1")
    ]


@pytest.mark.parametrize(
    "shape", ["ellipse, 70 x 100 mm", "circle, 12 mm across", "rectangle, 100 x 140 mm"]
)
def test_pads_keep_off_the_edge_and_off_each_other(shape: str) -> None:
    made, story = mounted(shape)
    (mark,) = [m for m in story.frames[0].motions if isinstance(m, Mark)]
    pads = [shapely.box(*b) for b in mark.boxes]
    outline = made.piece("leaf").outline.outer

    paper = shapely.Polygon(flattened(outline, 0.01))
    assert all(paper.buffer(-0.5).covers(pad) for pad in pads)
    assert all(not a.intersects(b) for i, a in enumerate(pads) for b in pads[:i])
    # No spot of the paper is further from a pad than two that are side by side.
    spots = [shapely.Point(p) for p in shapely.get_coordinates(paper.segmentize(5.0))]
    assert max(shapely.union_all(pads).distance(p) for p in spots) < 35.0
    assert any(isinstance(m, MoveMotion) for m in story.frames[0].motions)


def test_pads_are_said_and_laid_ready() -> None:
    made, _ = mounted()
    assert order(made.steps[0].actions[0]) == "Mount the leaf on the card with pads"
    (pads,) = [s for s in supplies_for(made, ()) if s.name == "pads"]
    assert pads.what == "Pads"
    assert pads.note.startswith("3 mm")


@pytest.mark.parametrize("shape", ["ellipse, 70 x 100 mm", "circle, 60 mm across"])
def test_what_is_round_can_be_glued_on_what_is_not(shape: str) -> None:
    text = TEXT.replace("{shape}", shape).replace("{thick}", "1")
    outcome = compile_text(text.replace("mount    leaf on card with pads", "glue leaf to card"))
    (border,) = [c for c in outcome.checks if c.code == "border-uneven"]
    assert border.result == "pass"
    assert dict(border.numbers)["least_mm"] == pytest.approx(17.5 if "ellipse" in shape else 22.5)
