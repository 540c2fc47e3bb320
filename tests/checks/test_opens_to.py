"""``opens to``: passed, failed, and the edge between."""

from __future__ import annotations

import pytest

from tests.compiled import codes, compile_text, numbers

PAGE = """
```piece page, in card
outline  rectangle, 148 x 210 mm
slit     along 49 mm in from left, from {head} mm below top to 135 mm below top
slit     along 99 mm in from left, from {head} mm below top to 135 mm below top
score    along 105 mm below top, from left to 49 mm in from left, valley, called left gutter
score    along 105 mm below top, from 99 mm in from left to right, valley, called right gutter
score    along {head} mm below top, from 49 mm in from left to 99 mm in from left, valley
score    along {nose} mm below top, from 49 mm in from left to 99 mm in from left, {bend}
score    along 135 mm below top, from 49 mm in from left to 99 mm in from left, valley
```

```fits
page opens to {angle} degrees
```

## Make it

```step
press   page
```
"""


def page(head: float = 55, nose: float = 85, bend: str = "mountain", angle: int = 180) -> str:
    return PAGE.format(head=head, nose=nose, bend=bend, angle=angle)


@pytest.mark.parametrize(
    ("head", "fails"),
    [(55, False), (30, False), (29.9, True), (15, True)],
)
def test_reach_up_to_the_edge_passes(head: float, fails: bool) -> None:
    """Reach is (105 - head) + 30; the half of the page is 105 high. Beyond the tolerance of 0.05
    it sticks out."""
    outcome = compile_text(page(head, head + 30))
    assert codes(outcome) == (["does-not-open"] if fails else [])
    found = numbers(outcome, "does-not-open")
    out = (105 - head) + 30 - 105
    assert found["out_mm"] == pytest.approx(out if fails else 0.0, abs=1e-6)
    if not fails:
        assert found["inside_mm"] == pytest.approx(-out, abs=1e-6)


def test_a_nose_scored_the_wrong_way_is_found() -> None:
    outcome = compile_text(page(bend="valley"))
    assert codes(outcome) == ["does-not-open"]
    assert "against the score" in outcome.diagnostics[0].message


def test_a_nose_in_the_wrong_place_jams() -> None:
    outcome = compile_text(page(nose=120))
    assert codes(outcome) == ["does-not-open"]
    assert "cannot all hold" in outcome.diagnostics[0].message


def test_half_open_is_less_than_open() -> None:
    outcome = compile_text(page(angle=90))
    assert codes(outcome) == []
    assert numbers(outcome, "does-not-open")["to_deg"] == 90.0


def test_nothing_opens_further_than_all_the_way_round() -> None:
    outcome = compile_text(page(angle=1_000_000))
    assert codes(outcome) == ["does-not-open"]
    assert "360°" in outcome.diagnostics[0].message


def test_what_opens_to_nothing_stays_closed() -> None:
    outcome = compile_text(page(angle=0))
    assert codes(outcome) == []
    assert numbers(outcome, "does-not-open")["to_deg"] == 0.0
