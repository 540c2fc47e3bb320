"""What comes between glue and its partner, and what may."""

from __future__ import annotations

import pytest

from tests.checks.mutations_turned import ORDERS, POUCH
from tests.compiled import codes, compile_text

CODE = "glue-covered"


def pouch(order: str, high: float = 50.0) -> str:
    return POUCH.replace("{high}", f"{high}").replace("{deep}", "30").replace("{order}", order)


@pytest.mark.parametrize(("order", "expected"), zip(ORDERS, ([], [CODE], [CODE]), strict=True))
def test_what_lies_inside_is_folded_before_what_closes_it(order: str, expected: list[str]) -> None:
    assert codes(compile_text(pouch(order))) == expected


@pytest.mark.parametrize(("high", "expected"), [(6.0, []), (6.1, [CODE])])
def test_a_tenth_of_the_glue_may_lie_elsewhere(high: float, expected: list[str]) -> None:
    """The strip is 60 mm long; nine tenths of it must meet its partner."""
    assert codes(compile_text(pouch(ORDERS[1], high))) == expected


def test_it_is_told_what_lies_between() -> None:
    (finding,) = compile_text(pouch(ORDERS[1])).diagnostics
    assert finding.message == (
        "pocket of pouch lies between side of pouch and back of pouch when they are glued"
    )
    assert dict(finding.numbers)["covered"] == pytest.approx(50 / 60)


def test_tabs_that_lap_and_are_glued_at_once_hold_to_each_other() -> None:
    """Two tabs of 20 mm on a wall of 30 mm."""
    tray = """
```piece tray, in card
panel    base, 60 x 30 mm
panel    front wall, on bottom of base, 25 mm deep, mountain by 90 degrees
panel    back wall, on top of base, 25 mm deep, mountain by 90 degrees
panel    left wall, on left of base, 25 mm deep, mountain by 90 degrees
panel    right wall, on right of base, 25 mm deep, mountain by 90 degrees
tab      on left of front wall, 20 mm deep, mountain by 90 degrees, meets bottom of left wall
tab      on left of back wall, 20 mm deep, mountain by 90 degrees, meets top of left wall
```

```step
score    tray
turn     over tray
fold     front wall and back wall of tray
fold     each tab of tray
glue     each tab of tray
fold     left wall and right wall of tray
```
"""
    assert CODE not in codes(compile_text(tray))
