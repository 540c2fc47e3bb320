"""Glue that the design has, and steps that pass over it."""

from __future__ import annotations

import pytest

from tests.compiled import codes, compile_text

POUCH = """
```piece pouch, in paper
panels   down, 100 mm wide, mountain: front = 60 mm, back = 60 mm
glue     along left of front, 8 mm wide, on back face, called left strip
glue     along right of front, 8 mm wide, on back face, called right strip
```

```step
STEPS
fold     back of pouch
```
"""


@pytest.mark.parametrize(
    ("steps", "missing"),
    [
        ("glue     left strip and right strip of pouch", []),
        ("glue     left strip of pouch", ["right strip of pouch"]),
        ("glue     right strip of pouch", ["left strip of pouch"]),
        ("tape     left strip and right strip of pouch", None),
    ],
)
def test_each_strip_is_glued_in_a_step(steps: str, missing: list[str] | None) -> None:
    outcome = compile_text(POUCH.replace("STEPS", steps))
    if missing is None:
        assert "glue-not-used" not in codes(outcome)
        return
    told = [c.subject for c in outcome.checks if c.code == "glue-not-used" and c.result == "fail"]
    assert told == missing
    assert codes(outcome) == ["glue-not-used"] * len(missing)


def test_glue_that_lies_on_paper_and_was_never_spread_is_missed() -> None:
    """No step glues anything, and the list of supplies asks for glue."""
    outcome = compile_text(POUCH.replace("STEPS\n", "score front of pouch\n"))
    told = [c.subject for c in outcome.checks if c.code == "glue-not-used" and c.result == "fail"]
    assert told == ["left strip of pouch", "right strip of pouch"]


def test_a_draft_that_is_not_folded_yet_is_left_alone() -> None:
    text = POUCH.replace("STEPS\nfold     back of pouch", "lay pouch")
    assert "glue-not-used" not in codes(compile_text(text))
