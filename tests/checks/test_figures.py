"""Figures in prose against the measure that their sentence names."""

from __future__ import annotations

import pytest

from tests.compiled import codes, compile_text

PATTERN = """
```sizes
border = 5 mm
```

```piece stand, in card
panels  down, 80 mm wide, mountain: front = 60 mm, foot = 20 mm
notch   half round, 20 mm wide, at middle of top of front, called thumb notch
```

```piece mat, in patterned paper
mat     on front of stand, border
```

## Glue the mat

{prose}

```step
score   stand
glue    mat to front of stand
turn    over stand
fold    foot of stand
```
"""


def told(prose: str) -> list[str]:
    return codes(compile_text(PATTERN.replace("{prose}", prose)))


@pytest.mark.parametrize(
    "prose",
    [
        "The mat leaves a border of 5 mm.",
        "The mat leaves a border of 3/16 in.",
        "Five millimetres of border show.",
        "The foot is 20 mm deep.",
        "The front is 60 mm high and 80 mm wide.",
        "The mat is 70 mm wide.",
        "The thumb notch is 20 mm wide.",
        "The thumb notch has a radius of 10 mm.",
        "Score the stand 60 mm from its top edge.",
        "The border is {border}.",
        "Let it dry for 10 minutes on 2 sheets of paper.",
        "",
    ],
)
def test_true_figures_pass(prose: str) -> None:
    assert told(prose) == []


@pytest.mark.parametrize(
    "prose",
    [
        # 20 mm and 60 mm are measures of the design, but not of what is named.
        "The mat leaves a border of 20 mm.",
        "The mat leaves a border of three quarters of an inch.",
        "The foot is 60 mm deep.",
        "The front is 20 mm high.",
        "The mat is 80 mm wide.",
        "The thumb notch is 25 mm wide.",
        "Score the stand 50 mm from its top edge.",
        "**Border: 6 mm** all round.",
        "> Tip: keep a border of 8 mm.",
        "- the border is 4 mm",
    ],
)
def test_figures_that_differ_are_found(prose: str) -> None:
    assert told(prose) == ["figure-differs"]


def test_one_finding_for_each_wrong_figure_at_its_place() -> None:
    outcome = compile_text(
        PATTERN.replace("{prose}", "The front is 61 mm high, and the border is 7 mm.")
    )
    assert codes(outcome) == ["figure-differs", "figure-differs"]
    text = outcome.sources["content/trial/pattern.md"]
    spans = [d.places[0].span for d in outcome.diagnostics]
    assert [text[s.start : s.end] for s in spans] == ["61 mm", "7 mm"]


def test_a_figure_that_measures_nothing_warns() -> None:
    outcome = compile_text(PATTERN.replace("{prose}", "Stand it 333 mm from the lamp."))
    assert codes(outcome) == ["figure-unknown"]
    assert not outcome.failed
