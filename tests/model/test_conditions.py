"""Lines of steps and of fits that hold only sometimes, and sums over panels."""

from __future__ import annotations

import math

import pytest

from publisher.pipeline import Outcome
from tests.compiled import codes, compile_text

WALLET = """
```sizes
tab  = {tab}
page = 100 x 50 x 1 mm
```

```piece wallet, in card
panels   down, 120 mm wide, mountain: back = 60 mm, pocket = 55 mm, flap = 30 mm
tab      on left of flap, tab deep, mountain, when tab is over 8 mm, called ear
```

```fits
page goes into wallet with 1 mm to 5 mm to spare, when tab is over 20 mm
wallet closes to 120 x 90 x 2 mm, when tab is under 1 mm
```

## Fold it

```step
fold     flap of wallet, when tab is at most 8 mm
fold     pocket of wallet
```

## Fold its ear

```step
fold     ear of wallet, when tab is over 8 mm
```
"""


def wallet(tab: str) -> Outcome:
    return compile_text(WALLET.replace("{tab}", tab))


def test_lines_that_do_not_hold_are_left_out() -> None:
    pattern = wallet("6 mm").pattern
    assert pattern is not None
    assert pattern.claims == ()
    (step,) = pattern.steps
    assert [a.subjects[0].part for a in step.actions] == ["flap", "pocket"]
    assert sum(b.kind == "step" for b in pattern.body) == 1


def test_lines_that_hold_are_there() -> None:
    pattern = wallet("10 mm").pattern
    assert pattern is not None
    assert [len(s.actions) for s in pattern.steps] == [1, 1]
    assert [s.number for s in pattern.steps] == [1, 2]
    assert [s.title for s in pattern.steps] == ["Fold it", "Fold its ear"]
    assert sum(b.kind == "step" for b in pattern.body) == 2


def test_a_condition_that_cannot_be_worked_out_is_told() -> None:
    body = WALLET.replace("when tab is over 20 mm", "when tab is over 20").replace("{tab}", "6 mm")
    assert codes(compile_text(body)) == ["missing-unit"]


def test_a_condition_is_looked_at_in_both() -> None:
    body = WALLET.replace("tab is over 20 mm", "tib is over 20 mm").replace("{tab}", "6 mm")
    body = body.replace("fold     flap of wallet, when tab", "fold     flap of wallet, when tob")
    assert codes(compile_text(body)) == ["unknown-name", "unknown-name"]


# ---------------------------------------------------------------- over several things

SUMS = """
```sizes
side   = 40 mm
whole  = sum(height of each panel of strip)
wide   = max(width of each panel of strip)
least  = min(height of all of strip)
two    = sum(height of first and second of strip)
slant  = diagonal(30 mm, side)
room   = diagonal(1 in, 2 in, 2 in)
{more}
```

```piece strip, in card
panels   down, 70 mm wide, mountain: first = 30 mm, second = side, third = 25 mm
window   rectangle, 10 mm x (sum(height of each panel) / 10), at middle of second
```

```step
fold     each panel of strip
```
"""


def sums(more: str = "") -> Outcome:
    return compile_text(SUMS.replace("{more}", more))


@pytest.mark.parametrize(
    ("name", "mm"),
    [
        ("whole", 30 + 40 + 25),
        ("wide", 70.0),
        ("least", 25.0),
        ("two", 70.0),
        ("slant", 50.0),
        ("room", 3 * 25.4),
    ],
)
def test_over_several(name: str, mm: float) -> None:
    outcome = sums()
    assert [d for d in outcome.diagnostics if d.severity == "error"] == []
    assert outcome.pattern is not None
    (value,) = next(s.values for s in outcome.pattern.sizes if s.name == name)
    assert math.isclose(value, mm, abs_tol=1e-9)


def test_in_a_piece_its_own_panels_are_meant() -> None:
    pattern = sums().pattern
    assert pattern is not None
    assert pattern.piece("strip").openings[0].depth_mm == pytest.approx(9.5)


@pytest.mark.parametrize(
    ("more", "code", "says"),
    [
        ("odd = height of each panel of strip", "wrong-unit", "a list of measures"),
        ("odd = height of each panel of strip + 1 mm", "wrong-unit", "a list of 3 lengths"),
        ("odd = sum(height of each panel)", "unknown-name", "of which piece?"),
        ("odd = sum(height of each flop of strip)", "unknown-name", "flop"),
        ("odd = sum(side, 3)", "wrong-unit", "its values are all lengths"),
        ("odd = square root(height of each panel of strip)", "wrong-unit", "plain number"),
        ("odd = diagonal(30 mm, 3)", "wrong-unit", "it takes lengths"),
        ("odd = diagonal(30 mm)", "wrong-count", "takes 2 values, not 1"),
    ],
)
def test_what_is_no_sum(more: str, code: str, says: str) -> None:
    (finding,) = [d for d in sums(more).diagnostics if d.severity == "error"]
    assert (finding.code, says in finding.message) == (code, True), finding.message
