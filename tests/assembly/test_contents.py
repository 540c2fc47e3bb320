"""Things that steps put into paper."""

from __future__ import annotations

import pytest

from publisher.assembly import MoveMotion, assemble
from publisher.assembly.bodies import box
from publisher.assembly.contents import contents_of
from publisher.assembly.handled import handled
from publisher.assembly.kit import kit_of
from publisher.model.types import Target
from tests.assembly.build import HERE, do, part, pattern, sheet, tray
from tests.compiled import told_by


def thing(name: str, *size: float) -> Target:
    return Target("object", name, size_mm=(size[0], size[1], size[2]), span=HERE)


STACK = thing("stack", 76.0, 70.0, 20.0)
FILL = (
    do("turn", part("tray"), to="over"),
    do("fold", part("tray")),
    do("slide", STACK, to="into", objects=(part("tray"),)),
)


def test_a_stack_goes_into_its_tray() -> None:
    made = pattern([tray("tray", 80, 80, 40)], *FILL)
    story, findings = assemble(made)
    assert findings == []
    assert story.things == ("stack",)
    assert story.handled is not None
    kit = kit_of(story.handled, story.things)
    (s0, s1), (t0, _) = (box(kit, [story.end.body(b)]) for b in ("stack-1", "tray-1"))
    assert [b - a for a, b in zip(s0, s1, strict=True)] == pytest.approx([76, 70, 20])
    # On the floor, 2 and 5 free at the sides.
    assert [a - b for a, b in zip(s0, t0, strict=True)] == pytest.approx([2, 5, 0])
    (motion,) = story.frames[2].motions
    assert isinstance(motion, MoveMotion)
    assert motion.bodies == ("stack-1",)


def test_a_stack_that_is_too_large_has_no_way_in() -> None:
    steps = (*FILL[:2], do("slide", thing("stack", 82, 70, 20), to="into", objects=(part("tray"),)))
    _, findings = assemble(pattern([tray("tray", 80, 80, 40)], *steps))
    assert findings[0].code == "no-way-in"
    assert dict(findings[0].numbers)["missing_mm"] == pytest.approx(2.0)


def test_what_is_thin_is_handled_as_a_sheet() -> None:
    lay = [do("lay", thing("plan", 120, 80, 2)), do("lay", thing("box", 40, 30, 9))]
    plan, solid = contents_of(pattern([sheet("card", 60, 40)], *lay))
    assert [f.name for f in plan.facets] == ["plan"]
    assert plan.stock.caliper_mm == 2.0
    assert len(solid.facets) == 6
    assert solid.stock.caliper_mm == 0.0


def test_a_pattern_without_things_is_handled_as_it_is() -> None:
    made = pattern([sheet("card", 60, 40)], do("lay", part("card")))
    assert handled(made).pattern is made
    story, _ = assemble(made)
    assert (story.handled, story.things, story.smooth) == (None, (), ())


CARTON = """
```sizes
tea = 58 x 78 x 38 mm
```

```piece carton, in card
panels   across, 80 mm high, mountain by 90 degrees:
         front = 60 mm, right side = 40 mm, back = 60 mm, left side = 40 mm
tab      on left of front, 12 mm deep, 3 mm taper, mountain by 90 degrees,
         meets right of left side, called seam
panel    lid, on top of back, 39.5 mm deep, mountain by 90 degrees
panel    tongue, on top of lid, 14 mm deep, 4 mm taper, mountain by 90 degrees
panel    base, on bottom of back, 39.5 mm deep, mountain by 90 degrees
panel    base tongue, on bottom of base, 14 mm deep, 4 mm taper, mountain by 90 degrees
panel    left dust, on top of left side, 24 mm deep, 3 mm taper, mountain by 90 degrees
panel    lower left dust, on bottom of left side, 24 mm deep, 3 mm taper, mountain by 90 degrees
```

```step
turn     over carton
fold     right side, back, left side and seam of carton
glue     seam of carton
fold     lower left dust of carton
fold     base tongue of carton
fold     base of carton
slide    tea into carton
fold     left dust of carton
fold     tongue of carton
fold     lid of carton
```
"""


def test_a_packet_stands_in_its_carton_between_the_tongues() -> None:
    """It is put in upright, as it fits in no other way, and lies on the inner side of all flaps
    that were folded in before it."""
    made, story = told_by(CARTON)
    kit = kit_of(story.handled or made, story.things)
    (t0, t1), (c0, c1) = (box(kit, [story.end.body(b)]) for b in ("tea-1", "carton-1"))
    sizes = sorted(round(b - a, 3) for a, b in zip(t0, t1, strict=True))
    assert sizes == [38.0, 58.0, 78.0]
    assert all(a > b - 1e-6 for a, b in zip(t0, c0, strict=True))
    assert all(a < b + 1e-6 for a, b in zip(t1, c1, strict=True))
