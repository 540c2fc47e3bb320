"""Parts that small children could swallow.

The cylinder: 31.7 mm across, 57.1 mm deep at its deepest (16 CFR 1501.4, from memory).
"""

from __future__ import annotations

import math

import pytest

from publisher.checks.small_parts import fits_cylinder, small_parts
from tests.checks.test_mending import tray
from tests.checks.test_tolerances import context


@pytest.mark.parametrize(
    ("size", "fits"),
    [
        ((31.7, 0.0, 57.1), True),
        ((31.71, 0.0, 57.1), False),
        ((31.7, 0.0, 57.11), False),
        # A cube whose diagonal across is the cylinder's: 31.7 / sqrt 2.
        ((31.7 / math.sqrt(2) - 1e-6,) * 3, True),
        ((22.5, 22.5, 22.5), False),
        # Lengths may stand in any order.
        ((57.0, 20.0, 20.0), True),
    ],
)
def test_what_fits_the_cylinder(size: tuple[float, float, float], fits: bool) -> None:
    assert fits_cylinder(size) is fits


PIECES = """
```piece card, in card
outline  rectangle, 60 x 40 mm
```

```piece seal, in card
outline  rectangle, 25 x 25 mm
```

```step
{step}
```
"""


@pytest.mark.parametrize(
    ("step", "expected"),
    [
        ("lay card\nlay seal", {"card": "pass", "seal": "warning"}),
        ("glue seal to card", {}),
    ],
)
def test_what_is_glued_is_not_loose(step: str, expected: dict[str, str]) -> None:
    found = small_parts(context(PIECES.replace("{step}", step)))
    assert {r.subject: r.result for r in found} == expected


def test_contents_count_too() -> None:
    """A stack 80 x 60 x 18 mm is large, a bead of 8 mm is not."""
    large = {r.subject: r.result for r in small_parts(context(tray()))}
    assert large["stack"] == "pass"
    bead = tray(stack="8 x 8 x 8 mm", room="76 mm", margin="at least 1 mm")
    assert {r.subject: r.result for r in small_parts(context(bead))}["stack"] == "warning"
