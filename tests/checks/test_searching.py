"""How far the search for ways out goes: by what trials cost, and not where none can help."""

from __future__ import annotations

import pytest

from publisher.checks import mending, searching
from publisher.checks.trial import Trial, judged
from publisher.checks.types import CheckResult
from tests.checks.ways_out import check, text_of


def _failing(code: str, numbers: tuple[tuple[str, float], ...]) -> Trial:
    return judged((CheckResult(code, "tray", "fail", numbers, ""),), work=10)


def test_what_no_size_mends_is_not_tried(monkeypatch: pytest.MonkeyPatch) -> None:
    def tried(*_: object) -> None:
        raise AssertionError("a trial was made")

    monkeypatch.setattr(mending, "followed", tried)
    monkeypatch.setattr(mending, "tried_farther", tried)
    bench = searching.Bench(None, None, None, _failing("claim-not-proven", ()), 90)  # type: ignore[arg-type]
    assert mending.whole_ways(bench, ()) == ()


@pytest.mark.parametrize(
    ("before", "after", "idle"),
    [
        ((("gap_mm", 2.0),), (("gap_mm", 2.0),), True),
        ((("gap_mm", 2.0),), (("gap_mm", 2.5),), False),
        ((), (), False),  # nothing is measured: who knows
    ],
)
def test_a_figure_that_leaves_the_failing_check_as_it_was_is_idle(
    before: tuple[tuple[str, float], ...], after: tuple[tuple[str, float], ...], idle: bool
) -> None:
    base, trial = _failing("glue-misses", before), _failing("glue-misses", after)
    assert searching._leaves_be(base, trial, base.failing) is idle


def test_a_plain_check_looks_no_longer_than_it_may() -> None:
    """By the work that trials take, so that it is the same on every machine; and it says that
    there is more to be had."""
    text = text_of("lantern").replace("base play      = 1 mm", "base play      = 0.1 mm")
    spent: list[int] = []
    original = searching.try_out

    def counted(*given: object) -> Trial:
        trial = original(*given)  # type: ignore[arg-type]
        spent.append(trial.work)
        return trial

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(searching, "try_out", counted)
        outcome = check(text)
    assert outcome.failed
    assert spent
    assert sum(spent[:-1]) < mending.PLAIN_WORK
    ways = [w for d in outcome.diagnostics for w in d.ways_out if w.edit is not None]
    assert ways or any(mending.FARTHER_NOTE in d.notes for d in outcome.diagnostics)
