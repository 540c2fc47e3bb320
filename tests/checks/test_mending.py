"""Ways out: found on the real design, and what is offered holds when it is taken."""

from __future__ import annotations

import random

import pytest

from publisher.checks.mending import Bench, ways
from publisher.checks.run import run_made
from publisher.checks.trial import Knob, Trial, changed, judged, knobs, try_out
from publisher.language import Outside, parse
from publisher.language.program import Program
from publisher.language.values import MM_PER_UNIT
from publisher.model.types import Pattern
from publisher.pipeline import Outcome
from publisher.source import read_document
from tests.compiled import HEAD, codes, compile_text, workshop

TRAY = """
```sizes
stack = {stack}
room  = {room}
wall  = {wall}
```

```piece tray, in card
panel    base, (width of stack + room) x (height of stack + 3 mm)
panel    front wall, on bottom of base, wall deep, mountain by 90 degrees
panel    back wall, on top of base, wall deep, mountain by 90 degrees
panel    left wall, on left of base, wall deep, mountain by 90 degrees
panel    right wall, on right of base, wall deep, mountain by 90 degrees
```

```fits
stack goes into tray with {margin} to spare
{more}
```

```step
score    tray
turn     over tray
fold     each wall of tray
```
"""


def tray(
    stack: str = "80 x 60 x 18 mm",
    room: str = "4 mm",
    wall: str = "20 mm",
    margin: str = "2 mm to 6 mm",
    more: str = "",
) -> str:
    text = TRAY.replace("{stack}", stack).replace("{room}", room).replace("{wall}", wall)
    return text.replace("{margin}", margin).replace("{more}", more)


def offered(outcome: Outcome) -> list[str]:
    finding = next(d for d in outcome.diagnostics if d.severity == "error")
    return [w.text for w in finding.ways_out if w.edit is not None]


def taken(body: str, outcome: Outcome, number: int, units: str = "mm") -> str:
    """The pattern's body after an offered edit."""
    finding = next(d for d in outcome.diagnostics if d.severity == "error")
    edit = [w.edit for w in finding.ways_out if w.edit is not None][number]
    head = HEAD.replace("{units}", units)
    whole = head + body
    assert edit is not None
    return (whole[: edit.span.start] + edit.text + whole[edit.span.end :])[len(head) :]


@pytest.mark.parametrize(
    ("changes", "expected"),
    [
        # 1 mm of room where 2 are wanted.
        ({"room": "1 mm"}, ["make room 2 mm, where it is 1 mm"]),
        # 7 where 6 at most are wanted.
        ({"room": "7 mm"}, ["make room 6 mm, where it is 7 mm"]),
        # 3 too high for the wall: the wall, or the stack, whichever moves less.
        (
            {"stack": "80 x 60 x 23 mm"},
            [
                "make depth of stack 20 mm, where it is 23 mm",
                "make wall 23 mm, where it is 20 mm",
            ],
        ),
        ({"room": "1/16 in"}, ["make room 1/8 in, where it is 1/16 in"]),
    ],
)
def test_the_nearest_change_of_one_size(changes: dict[str, str], expected: list[str]) -> None:
    body = tray(**changes)
    outcome = compile_text(body)
    assert offered(outcome) == expected
    for number in range(len(expected)):
        assert codes(compile_text(taken(body, outcome, number))) == []


def test_a_change_that_breaks_something_else_is_not_offered() -> None:
    """A deeper wall would hold the stack, but then the tray no longer closes as it must."""
    closes = "tray closes to 84.8 x 63.8 x 20.4 mm"
    outcome = compile_text(tray(stack="80 x 60 x 23 mm", more=closes))
    assert offered(outcome) == ["make depth of stack 20 mm, where it is 23 mm"]


def test_a_range_is_kept() -> None:
    outcome = compile_text(tray(stack="80 x 60 x 23 mm", wall="20 mm, from 18 mm to 22 mm"))
    assert offered(outcome) == ["make depth of stack 20 mm, where it is 23 mm"]


def test_what_holds_gets_no_way_out() -> None:
    outcome = compile_text(tray())
    assert all(r.finding is None for r in outcome.checks)


# ---------------------------------------------------------------- against brute force


def design(body: str) -> tuple[Program, Pattern]:
    document, _ = read_document(HEAD.replace("{units}", "mm") + body, "content/trial/pattern.md")
    assert document is not None
    trade = workshop().trade
    program, _ = parse(document, Outside(frozenset(trade.stocks), frozenset(trade.objects)))
    outcome = compile_text(body)
    assert outcome.pattern is not None
    return program, outcome.pattern


def by_force(program: Program, base: Trial, turnable: tuple[Knob, ...]) -> bool:
    """Whether any single figure mends it, tried from a tenth to twice its value."""
    trade = workshop().trade
    for knob in turnable:
        for tenth in range(1, 41):
            mm = knob.literal.value * MM_PER_UNIT[knob.literal.unit] * tenth / 20
            trial = try_out(changed(program, {knob.literal.span: mm}), trade, run_made)
            if trial.built and not trial.failing:
                return True
    return False


@pytest.mark.parametrize("seed", range(2))
def test_ways_out_are_found_where_brute_force_finds_one(seed: int) -> None:
    """Every offered way holds; one is offered for nine in ten that brute force can mend."""
    chance = random.Random(seed)
    trade = workshop().trade
    mendable = mended = 0
    for _ in range(2):
        stack = f"{chance.randint(60, 90)} x {chance.randint(50, 70)} x {chance.randint(10, 30)} mm"
        body = tray(stack=stack, room=f"{chance.randint(0, 9) + 0.5} mm")
        program, pattern = design(body)
        first = try_out(program, trade, run_made)
        if not first.failing:
            continue
        result = next(r for r in first.results if r.result == "fail")
        turnable = knobs(program, pattern)
        bench = Bench(program, trade, run_made, judged(first.results))
        found = ways(bench, turnable, result)
        for way in found:
            figure = {way.knob.literal.span: way.value * MM_PER_UNIT[way.knob.literal.unit]}
            trial = try_out(changed(program, figure), trade, run_made)
            assert trial.built
            assert not trial.failing
        mendable += bool(found) or by_force(program, first, turnable)
        mended += bool(found)
    assert mended >= 0.9 * mendable
