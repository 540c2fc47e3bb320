"""``divide``: where a piece may be cut in two."""

from __future__ import annotations

import pytest

from tests.compiled import codes, compile_text

BODY = """
```piece banner, in card
outline  rectangle, 400 x 60 mm
{line}
```

```step
lay banner
```
"""


def test_a_line_and_its_tab() -> None:
    outcome = compile_text(BODY.format(line="divide along 190 mm right of left, 12 mm tab"))
    assert outcome.pattern is not None
    (division,) = outcome.pattern.pieces[0].divisions
    assert {division.start, division.end} == {(190.0, 0.0), (190.0, 60.0)}
    assert division.tab_mm == 12.0


@pytest.mark.parametrize(
    "line", ["divide along 12 mm below top, 8 mm tab", "divide along middle, down, 8 mm tab"]
)
def test_lines_run_through_the_whole_piece(line: str) -> None:
    outcome = compile_text(BODY.format(line=line))
    assert outcome.pattern is not None
    (division,) = outcome.pattern.pieces[0].divisions
    spans = [abs(a - b) for a, b in zip(division.start, division.end, strict=True)]
    assert sorted(spans) in ([0.0, 60.0], [0.0, 400.0])


@pytest.mark.parametrize(
    ("line", "code"),
    [
        ("divide along 190 mm right of left", "missing-phrase"),
        ("divide 12 mm tab", "missing-phrase"),
        ("divide along left, 12 mm tab", "line-off-paper"),
    ],
)
def test_what_is_missing_or_leads_nowhere(line: str, code: str) -> None:
    assert code in codes(compile_text(BODY.format(line=line)))


def test_a_line_that_would_leave_more_than_two_parts() -> None:
    body = """
```piece comb, in card
outline  rectangle, 400 x 60 mm
cut      rectangle, 100 x 40 mm, at middle of bottom
divide   along 50 mm below top, 5 mm tab
```
"""
    assert "wrong-place" in codes(compile_text(body))
