"""Sheets that stand on edge in a tray, and slots that slide on paper."""

from __future__ import annotations

import pytest

from tests.checks.test_rules import codes, numbers
from tests.compiled import compile_text

PATTERN = """
```piece tray, in card
form     tray, inside = 80 x 60 x 40 mm, tab = {tab} mm
```

```piece long, in card
outline  rectangle, {long} x {rise} mm
notch    square, {slot} mm wide, 20 mm deep, at middle of top, called slot
```

```piece short, in card
outline  rectangle, 59 x {rise} mm
notch    square, 0.6 mm wide, 20 mm deep, at {at} of top, called slot
```

```fits
long goes into tray with 0.5 mm to 1.5 mm to spare
short goes into tray with 0.5 mm to 1.5 mm to spare
slot of long slides on short with 0.1 mm to 0.3 mm to spare
```

## Make it

```step
score    tray
turn     over tray
fold     each wall and each tab of tray
glue     each tab of tray
```

Let the glue dry before the cross goes in.

```step
slide    slot of long into slot of short, called cross
slide    cross into tray
```
"""


def pattern(
    long: float = 79, rise: float = 36, slot: float = 0.6, tab: float = 12, at: str = "middle"
) -> str:
    words = {"long": long, "rise": rise, "slot": slot, "tab": tab, "at": at}
    text = PATTERN
    for name, value in words.items():
        text = text.replace("{" + name + "}", str(value))
    return text


def test_a_sheet_on_edge_is_measured_from_wall_to_wall_and_up_to_the_rim() -> None:
    outcome = compile_text(pattern())
    assert codes(outcome) == []
    found = numbers(outcome, "does-not-go-in")
    assert found["ends_spare_mm"] == pytest.approx(1.0)
    assert found["over_mm"] == pytest.approx(4.0)
    assert numbers(outcome, "does-not-slide-on")["spare_mm"] == pytest.approx(0.2)


@pytest.mark.parametrize(
    ("changed", "code"),
    [
        ({"long": 79.6}, "does-not-go-in"),
        ({"long": 78}, "too-loose"),
        ({"slot": 0.4}, "does-not-slide-on"),
        ({"slot": 0.8}, "too-much-to-spare"),
    ],
)
def test_too_long_too_short_too_narrow_too_wide(changed: dict[str, float], code: str) -> None:
    assert code in codes(compile_text(pattern(**changed)))


def test_a_sheet_that_stands_over_the_rim_does_not_go_in() -> None:
    text = pattern(rise=41).replace("20 mm deep", "21 mm deep")
    outcome = compile_text(text)
    assert codes(outcome) == ["does-not-go-in", "does-not-go-in"]
    assert numbers(outcome, "does-not-go-in")["over_mm"] == pytest.approx(-1.0)


def test_a_tab_counts_where_the_sheet_meets_it() -> None:
    """Tabs reach 25 mm along the short walls. The long sheet stands in the middle of those, or
    within the reach of a tab at both of its ends, and each takes one caliper."""
    assert numbers(compile_text(pattern(tab=25)), "does-not-go-in")["ends_spare_mm"] == (
        pytest.approx(1.0)
    )
    aside = pattern(tab=25, at="1/5 of the way along").replace("along of top", "along top")
    assert numbers(compile_text(aside), "does-not-go-in")["ends_spare_mm"] == pytest.approx(0.2)
