"""Turns on the table: the shorter way round, and none that turns nothing."""

from __future__ import annotations

import pytest

from publisher.assembly.types import TurnMotion
from publisher.drawing.space_view import draw_story
from tests.compiled import codes, compile_text

BOX = """
```piece box, in card
panel    base, 60 x 40 mm
panel    wall, on top of base, 20 mm deep, mountain by 90 degrees
```

## Make it

```step
score    box
fold     wall of box
```

```step
turn     {said}
```
"""


def turned(said: str) -> TurnMotion:
    outcome = compile_text(BOX.format(said=said))
    assert codes(outcome) == []
    assert outcome.story is not None
    motion = outcome.story.frames[-1].motions[0]
    assert isinstance(motion, TurnMotion)
    return motion


def test_further_than_half_round_is_the_other_way_round() -> None:
    there, back = turned("over box by 104 degrees"), turned("over box by 256 degrees")
    assert there.angle_deg == pytest.approx(104.0)
    assert back.angle_deg == pytest.approx(104.0)
    assert back.axis == pytest.approx(tuple(-v for v in there.axis))


def test_it_comes_to_lie_where_the_longer_way_would_lead() -> None:
    outcome = compile_text(BOX.format(said="over box by 270 degrees"))
    assert outcome.story is not None
    normal = outcome.story.end.body("box-1").facet_pose("base").normal
    # The near edge rises: after three quarters the front face looks towards the maker.
    assert normal == pytest.approx((0.0, -1.0, 0.0), abs=1e-9)


def test_a_roll_towards_the_maker_is_told_and_has_its_sign() -> None:
    outcome = compile_text(BOX.format(said="over box by 270 degrees"))
    assert outcome.pattern is not None
    assert outcome.story is not None
    drawing = draw_story(outcome.pattern, outcome.story)[-1]
    assert drawing.alt.startswith("Tip the box towards you by a quarter turn.")
    assert "turn-quarter" in drawing.signs


@pytest.mark.parametrize("said", ["over box by 0 degrees", "over box by 360 degrees"])
def test_a_turn_that_turns_nothing_is_told(said: str) -> None:
    assert codes(compile_text(BOX.format(said=said))) == ["wrong-angle"]


@pytest.mark.parametrize(("angle", "found"), [(180, []), (181, ["wrong-angle"])])
def test_nothing_folds_further_than_flat(angle: int, found: list[str]) -> None:
    text = BOX.format(said="over box").replace("wall of box", f"wall of box by {angle} degrees")
    assert codes(compile_text(text)) == found
