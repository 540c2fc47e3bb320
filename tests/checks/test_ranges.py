"""Sizes over their whole range: what fails somewhere is found, with where it begins."""

from __future__ import annotations

import pytest

from publisher.checks.ranges import Sweep, points, ranged, tried
from publisher.checks.run import run_made
from publisher.checks.types import CheckResult
from publisher.workshop import begin_corners, second_hands, with_results
from tests.checks.test_mending import design, tray
from tests.compiled import codes, compile_text, workshop


def swept(body: str, count: int = 12) -> tuple[CheckResult, ...]:
    program, pattern = design(body)
    sweep = Sweep(program, pattern, workshop().trade, run_made)
    some = points(sweep.sizes, count)
    sweep.take(tried(program, workshop().trade, run_made, at) for at in some)
    sweep.search(
        3, lambda points: [tried(program, workshop().trade, run_made, at) for at in points]
    )
    return sweep.results()


def test_a_range_that_holds() -> None:
    (result,) = swept(tray(room="4 mm, from 2 mm to 6 mm"))
    assert result.result == "pass"
    assert dict(result.numbers)["combinations"] >= 9


@pytest.mark.parametrize(
    ("limits", "begins"),
    [
        # 2 to 6 mm are to be free beside the stack: beyond either end it fails at once.
        ("from 2 mm to 9 mm", 6.0),
        ("from 1 mm to 6 mm", 2.0),
    ],
)
def test_where_a_failure_begins(limits: str, begins: float) -> None:
    (result,) = swept(tray(room=f"4 mm, {limits}"))
    assert result.code == "fails-in-range"
    assert dict(result.numbers)["room_mm"] == pytest.approx(begins, abs=0.02)
    assert result.finding is not None
    assert [p.label for p in result.finding.places] == ["this range"]


def test_only_the_sizes_that_matter_are_named() -> None:
    body = tray(room="4 mm, from 2 mm to 6 mm", wall="20 mm, from 10 mm to 30 mm")
    (result,) = swept(body)
    # The stack is 18 high: a wall lower than that fails, whatever the room is.
    assert [name for name, _ in result.numbers] == ["wall_mm"]
    assert dict(result.numbers)["wall_mm"] == pytest.approx(18.0, abs=0.02)


def test_two_sizes_that_fail_only_together() -> None:
    """2 to 6 mm free beside the stack hold at each end of each range alone, and not at both."""
    body = tray(room="4 mm, from 3 mm to 5 mm").replace(
        "wall  = 20 mm", "wall  = 20 mm\nedge  = 0.5 mm, from 0.1 mm to 1.5 mm"
    )
    body = body.replace("width of stack + room", "width of stack + room + edge")
    (result,) = swept(body)
    found = dict(result.numbers)
    assert set(found) == {"room_mm", "edge_mm"}
    assert found["room_mm"] + found["edge_mm"] == pytest.approx(6.0, abs=0.02)


def test_points_are_corners_and_fill_the_range_evenly() -> None:
    program, pattern = design(
        tray(room="4 mm, from 2 mm to 6 mm", wall="20 mm, from 18 mm to 30 mm")
    )
    sizes = ranged(program, pattern)
    found = points(sizes, 125)
    assert len(found) == len(set(found)) == 100
    for corner in ((2, 18), (2, 30), (6, 18), (6, 30)):
        assert (("room", corner[0]), ("wall", corner[1])) in found
    for column in range(4):
        inside = [p for p in found[4:] if 2 + column <= p[0][1] < 3 + column]
        assert len(inside) == pytest.approx(24, abs=2)


def test_no_bundle_leaves_that_fails_at_an_end_of_its_range() -> None:
    outcome = compile_text(tray(room="4 mm, from 2 mm to 9 mm"))
    assert not outcome.failed
    with second_hands() as hands:
        tried_out = with_results(outcome, begin_corners(outcome, workshop().trade, hands)())
    assert tried_out.failed
    assert codes(tried_out) == ["fails-in-range"]
    assert dict(tried_out.checks[-1].numbers)["room_mm"] == pytest.approx(6.0, abs=0.02)
