"""Ways out: found on the real design, and what is offered holds when it is taken."""

from __future__ import annotations

import pytest

from publisher.language import Outside, parse
from publisher.language.program import Program
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


CONTENTS = "with other contents only: make depth of stack 20 mm, where it is 23 mm"


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
        # 3 too high for the wall: the wall follows, the stack is what it is.
        ({"stack": "80 x 60 x 23 mm"}, ["make wall 23 mm, where it is 20 mm"]),
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
    """A deeper wall would hold the stack, but then the tray no longer closes as it must; so the
    stack is named after all, and as what it is."""
    closes = "tray closes to 84.8 x 63.8 x 20.4 mm"
    outcome = compile_text(tray(stack="80 x 60 x 23 mm", more=closes), thorough=True)
    assert offered(outcome) == [CONTENTS]


def test_a_range_is_kept() -> None:
    outcome = compile_text(tray(stack="80 x 60 x 23 mm", wall="20 mm, from 18 mm to 22 mm"))
    assert offered(outcome) == [CONTENTS]


def test_what_contents_come_from_is_named_last_too() -> None:
    """The stack is worked out from the packet: neither is the designer's to change."""
    body = tray(stack="80 mm x 60 mm x (18 * packet)")
    body = body.replace("stack = ", "packet = 1.3 mm\nstack = ")
    assert offered(compile_text(body)) == ["make wall 23.5 mm, where it is 20 mm"]


def test_a_piece_too_large_for_its_sheet_is_no_way_out() -> None:
    """300 mm across would go into a tray of 304, and that on no sheet of A4."""
    outcome = compile_text(tray(stack="300 x 60 x 18 mm", room="0.5 mm"))
    assert "piece-larger-than-sheet" in codes(outcome)
    assert all("leaves the other" in said for said in offered(outcome))


def test_where_nothing_mends_everything_each_is_mended_alone() -> None:
    """Two trays of their own, both too shallow: no one figure deepens both."""
    second = TRAY.partition("```piece")[2].partition("```step")[0]
    second = "```piece" + second.replace(" tray", " box").replace("wall deep", "rim deep")
    body = tray(stack="80 x 60 x 23 mm", more="stack goes into box with 2 mm to 6 mm to spare")
    body = body.replace("wall  = 20 mm", "wall  = 20 mm\nrim = 19 mm")
    body = body.replace("```fits", second.partition("```fits")[0] + "```fits", 1)
    step = "```step" + TRAY.partition("```step")[2]
    body += step.replace("tray", "box")
    outcome = compile_text(body, thorough=True)
    ways = {
        d.numbers and d.message: [w.text for w in d.ways_out if w.edit]
        for d in outcome.diagnostics
        if d.code == "does-not-go-in"
    }
    rest = "; that mends this and leaves the other findings"
    other = "with other contents only: make depth of stack 19 mm, where it is 23 mm"
    assert list(ways.values()) == [
        [f"make wall 23 mm, where it is 20 mm{rest}", other],
        [f"make rim 23 mm, where it is 19 mm{rest}", other],
    ]


def test_what_holds_gets_no_way_out() -> None:
    outcome = compile_text(tray())
    assert all(r.finding is None for r in outcome.checks)


def design(body: str) -> tuple[Program, Pattern]:
    document, _ = read_document(HEAD.replace("{units}", "mm") + body, "content/trial/pattern.md")
    assert document is not None
    trade = workshop().trade
    program, _ = parse(document, Outside(frozenset(trade.stocks), frozenset(trade.objects)))
    outcome = compile_text(body)
    assert outcome.pattern is not None
    return program, outcome.pattern


def test_a_figure_typed_in_a_piece_is_named_by_its_line() -> None:
    """No size has a say in the wall's depth."""
    body = tray(stack="80 x 60 x 23 mm").replace("wall deep", "20 mm deep", 1)
    body = body.replace("wall deep", "30 mm deep")
    outcome = compile_text(body)
    (way,) = offered(outcome)
    line = (
        (HEAD + body)
        .splitlines()
        .index("panel    front wall, on bottom of base, 20 mm deep, mountain by 90 degrees")
    )
    assert way == f"in line {line + 1} write 23 mm in place of 20 mm"
    assert codes(compile_text(taken(body, outcome, 0))) == []
