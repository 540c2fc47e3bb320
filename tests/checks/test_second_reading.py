"""Slips that a second reader found: things that are no paper, guides, one slip told twice."""

from __future__ import annotations

import pytest

from tests.compiled import codes, compile_text

CARD = """
```sizes
charm = 20 x 15 x 1 mm
```

```piece card, in card
outline  rectangle, 60 x 40 mm
```

## Make it

```step
{line}
```
"""


@pytest.mark.parametrize("line", ["glue     charm on card", "tape     charm behind card"])
def test_a_thing_that_is_no_paper_has_no_border(line: str) -> None:
    found = codes(compile_text(CARD.format(line=line)))
    assert "uneven-border" not in found


BEVELLED = """
```piece base, in card
outline  rectangle, 60 x 40 mm
corners  bevelled, 15 mm, at top left
```

```piece cover, in card
outline  rectangle, 60 x 40 mm
corners  bevelled, 15 mm, at top right
```

## Make it

```step
glue     cover to base
```
"""


def test_what_is_cut_for_the_other_hand_is_told_once() -> None:
    assert codes(compile_text(BEVELLED)).count("not-mirrored") == 1


GUIDED = """
```piece base, in card
outline  rectangle, 60 x 40 mm
draw     {drawn}, called guide
```

```piece cover, in patterned paper
outline  rectangle, 60 x 40 mm
glue     rectangle, 50 x 30 mm, at middle, on back face
```

## Make it

```step
glue     cover to base
```
"""


@pytest.mark.parametrize(
    ("drawn", "told"),
    [
        ("along 20 mm below top, from left to right", False),
        ("circle, 20 mm across, at middle", True),
    ],
)
def test_a_guide_line_makes_no_good_side(drawn: str, told: bool) -> None:
    assert ("good-side-hidden" in codes(compile_text(GUIDED.format(drawn=drawn)))) == told


def test_a_drawing_that_is_no_line_is_no_place() -> None:
    text = GUIDED.format(drawn="circle, 20 mm across, at middle")
    outcome = compile_text(text.replace("cover to base", "cover to guide of base"))
    assert codes(outcome) == ["wrong-place"]
    assert "no straight line" in outcome.diagnostics[0].message
