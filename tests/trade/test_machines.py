"""Ways of cutting: read in full, described by what they do."""

from __future__ import annotations

from pathlib import Path

import pytest

from publisher.trade import FILES, read_trade
from publisher.trade.read import read_machines

TEXT = (Path(__file__).parents[2] / "shared" / "machines.toml").read_text(encoding="utf-8")


def test_what_is_shared_is_read_without_a_finding() -> None:
    machines, wrong = read_machines("shared/machines.toml", TEXT)
    assert wrong == []
    assert {m.scores for m in machines.values()} == {"tool", "blade", "no"}
    assert {m.units_per_inch for m in machines.values()} >= {72, 96}
    for machine in machines.values():
        measured = {key for key, _ in machine.sources}
        assert {"bed_width_mm", "blade_offset_mm", "overcut_mm", "cut_mm_s", "scores"} <= measured
        assert machine.source


def test_they_come_with_the_trade_and_a_workshop_may_add_its_own() -> None:
    assert "machines.toml" in FILES
    base, _ = read_trade({"machines.toml": TEXT})
    own = TEXT[TEXT.index('["flat bed"]') : TEXT.index('["light beam"]')]
    more, wrong = read_trade({"machines.toml": own.replace("flat bed", "my table")}, base)
    assert wrong == ()
    assert set(more.machines) == {*base.machines, "my table"}


def test_an_arcs_worth_of_blade_is_gone_over_again() -> None:
    """A dragged blade trails by its offset and must go at least as far past the start. From
    memory."""
    machines, _ = read_machines("shared/machines.toml", TEXT)
    for machine in machines.values():
        assert machine.overcut_mm >= machine.blade_offset_mm


@pytest.mark.parametrize(
    ("was", "now", "message"),
    [
        ("units_per_inch = 72", "units_per_inch = 100", "must be 72, 90 or 96"),
        ('scores = "no"', 'scores = "maybe"', "must be one of tool, blade, no"),
        ("cut_mm_s = 15", "cut_mm_s = 0", "must be more than zero"),
        ("margin_mm = 6.35", "margin_mm = 200", "the margins leave no room"),
        ("overcut_mm = 1\n", "overcuts_mm = 1\n", "is not known"),
    ],
)
def test_a_mistake_is_answered(was: str, now: str, message: str) -> None:
    assert was in TEXT
    _, wrong = read_machines("shared/machines.toml", TEXT.replace(was, now, 1))
    assert any(message in d.message for d in wrong)
    assert all(d.places[0].span.file == "shared/machines.toml" for d in wrong)
