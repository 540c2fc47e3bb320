"""What goes into tubes with equal sides, or over them: measured from wall to wall.

A regular polygon with n sides of length s is s / tan(180 degrees / n) from wall to wall: 1.7320508
times s for six sides, 2.4142136 for eight (from memory; tables of regular polygons have them).
"""

from __future__ import annotations

import math

import pytest

from tests.compiled import codes, compile_text, numbers

TEXT = """
```sizes
jar = {jar} mm
```

```piece box, in card
form     prism, sides = {n}, side = 40 mm, height = 50 mm
```

```piece floor, in card
form     prism base, sides = {n}, side = 40 mm, play = {play} mm
```

```piece lid, in card
form     prism, sides = {n}, side = {lid} mm, height = 20 mm
```

```fits
floor goes into box with at least 1 mm to spare
lid slides on box with 0.5 mm to 3 mm to spare
jar goes into box
```

## Make it

```step
score    box and lid
turn     over box
fold     each side and last side and seam of box
glue     seam of box
turn     over lid
fold     each side and last side and seam of lid
glue     seam of lid
lay      floor
```
"""


def text(n: int = 6, play: float = 1.0, lid: float = 41.5, jar: str = "40 x 40 x 40") -> str:
    return TEXT.format(n=n, play=play, lid=lid, jar=jar)


@pytest.mark.parametrize(("n", "across"), [(6, 69.2820323), (8, 96.5685425), (5, 55.0552768)])
def test_from_wall_to_wall(n: int, across: float) -> None:
    found = numbers(compile_text(text(n)), "does-not-go-in")
    # The seam that is glued inside takes one caliper of 0.4.
    assert found["from_wall_to_wall_mm"] == pytest.approx(across - 0.4)
    assert found["needed_mm"] == pytest.approx(across - 2.0)


def test_a_lid_that_is_a_little_wider_slides_on() -> None:
    outcome = compile_text(text())
    assert codes(outcome) == []
    found = numbers(outcome, "does-not-slide-on")
    # 41.5 * sqrt(3) less the seam, and 40 * sqrt(3) with a caliper on each side.
    assert found["spare_mm"] == pytest.approx(1.5 * math.sqrt(3.0) - 3 * 0.4)


@pytest.mark.parametrize(
    ("wrong", "code"),
    [
        (text(play=0.6), "does-not-go-in"),
        (text(lid=40.9), "does-not-slide-on"),
        (text(lid=42.6), "too-much-to-spare"),
        # The diagonal of a square jar of 49 is 69.3, more than 68.88.
        (text(jar="49 x 49 x 40"), "does-not-go-in"),
    ],
)
def test_too_tight_and_too_loose(wrong: str, code: str) -> None:
    assert code in codes(compile_text(wrong))
