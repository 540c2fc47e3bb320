"""A vee whose feet are glued to lines on both halves of a card: it stands up as the card opens."""

from __future__ import annotations

import math

import numpy as np
import pytest

from publisher.assembly.types import Frame
from tests.compiled import codes, compile_text

VEE = """
```sizes
wing   = 50 mm
spread = {spread} degrees
out    = wing * cosine(spread)
off    = wing * sine(spread)
```

```piece card, in card
panel    upper half, 150 x 100 mm
panel    lower half, on bottom of upper half, 100 mm deep, valley
draw     from (60 mm, 100 mm) to (60 mm + out, 100 mm - off), called upper line
draw     from (60 mm, 100 mm) to (60 mm + out, {away} mm + off), called lower line
```

```piece gate, in card
panel    left wing, wing x 40 mm
panel    right wing, on right of left wing, wing deep, mountain
tab      on bottom of each wing, 10 mm deep, 20 mm taper, mountain by 90 degrees, called foot
```

```fits
card opens to 180 degrees
```

## Make it

```step
score    card
score    gate
turn     over gate
fold     right wing of gate by 180 degrees - 2 * spread
fold     each foot of gate
glue     foot 1 and foot 2 of gate to upper line and lower line of card
close    card
```

```step
open     card by {angle} degrees
```
"""


def vee(spread: float = 60, angle: float = 90, away: float = 100) -> str:
    return VEE.format(spread=spread, angle=angle, away=away)


def angles_of(frame: Frame, body: str) -> dict[str, float]:
    return dict(frame.after.body(body).angles)


@pytest.mark.parametrize("spread", [30.0, 60.0, 75.0])
@pytest.mark.parametrize("folded", [30.0, 90.0, 150.0])
def test_its_folds_follow_the_card(spread: float, folded: float) -> None:
    """The wings are square, so their common fold stands square on both lines: along the cross
    product of the two (first principles). The angles between the planes follow from it."""
    outcome = compile_text(vee(spread, folded))
    assert codes(outcome) == []
    assert outcome.story is not None
    frame = outcome.story.frames[-1]
    a, w = math.radians(spread), math.radians(180.0 - folded)
    first = np.array([math.cos(a), math.sin(a), 0.0])
    second = np.array([math.cos(a), math.sin(a) * math.cos(w), math.sin(a) * math.sin(w)])
    up = np.cross(first, second)
    up /= np.linalg.norm(up)
    between = math.degrees(math.acos(float(first @ second)))  # both wings are square to the fold
    # The foot points from its line to the gutter's other side, as the half does; its angle with
    # the wing is 180 less what it is folded.
    inwards = np.array([math.sin(a), -math.cos(a), 0.0])
    foot = math.degrees(math.acos(abs(float(up @ inwards))))
    found = angles_of(frame, "gate-1")
    assert found["right wing"] == pytest.approx(180.0 - between, abs=1e-6)
    assert min(found["foot 1"], 180.0 - found["foot 1"]) == pytest.approx(foot, abs=1e-6)
    assert found["foot 2"] == pytest.approx(found["foot 1"], abs=1e-6)


def test_closed_it_lies_flat_between_the_halves() -> None:
    outcome = compile_text(vee())
    assert outcome.story is not None
    closed = next(f for f in outcome.story.frames if f.action.verb == "close")
    found = angles_of(closed, "gate-1")
    assert {round(abs(a), 9) for a in found.values()} <= {0.0, 180.0}
    order = closed.after.above
    gate = {("gate-1", name) for name, _ in closed.after.body("gate-1").facets}
    cards = {a[0] for a in order if a[1] in gate} | {a[1] for a in order if a[0] in gate}
    assert {c[1] for c in cards if c[0] == "card-1"} == {"upper half", "lower half"}


@pytest.mark.parametrize(("away", "found"), [(100, []), (100.2, []), (104, ["tab-misses"])])
def test_a_line_where_the_foot_does_not_come_is_told(away: float, found: list[str]) -> None:
    text = vee(away=away).replace("card opens to 180 degrees", "upper half of card covers gate")
    outcome = compile_text(text.partition("close    card")[0] + "```\n")
    assert [c for c in codes(outcome) if c == "tab-misses"] == found
    if found:
        message = next(d.message for d in outcome.diagnostics if d.code == "tab-misses")
        assert "from the line" in message
