"""What one action lays on each other is drawn pulled apart, in the order in which it lies."""

from __future__ import annotations

import pytest

from publisher.drawing.space_view.exploded import SPREAD, moved_bodies
from publisher.geometry.space import norm
from tests.compiled import codes, compile_text

STACK = """
```piece base, in card
outline  rectangle, 120 x 90 mm
```

```piece large, in card
outline  rectangle, 100 x 70 mm
```

```piece medium, in card
outline  rectangle, 80 x 50 mm
```

```piece small, in card
outline  rectangle, 60 x 30 mm
```

## Make it

```step
glue     {line}
```
"""


def heights(line: str) -> dict[str, float]:
    """How far each travelling body is drawn from its place, mm."""
    outcome = compile_text(STACK.format(line=line))
    assert set(codes(outcome)) <= {"piece-not-used", "layer-hidden"}
    assert outcome.pattern is not None
    assert outcome.story is not None
    pieces = {p.name: p for p in outcome.pattern.pieces}
    return {b: norm(v) for b, v in moved_bodies(outcome.story.frames[-1], pieces).items()}


def test_each_layer_hovers_over_the_last() -> None:
    found = heights("large and medium and small to base")
    first = found["large-1"]
    assert found["medium-1"] == pytest.approx(first * (1 + SPREAD))
    assert found["small-1"] == pytest.approx(first * (1 + 2 * SPREAD))


def test_in_the_order_in_which_they_lie() -> None:
    found = heights("small and medium and large to base")
    assert found["small-1"] < found["medium-1"] < found["large-1"]


def test_one_alone_hovers_as_the_first_does() -> None:
    alone = heights("large to base")["large-1"]
    assert heights("large and medium and small to base")["large-1"] == pytest.approx(alone)
