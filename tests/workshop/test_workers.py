"""Work handed over comes back the same, whether there is a second process or not."""

from __future__ import annotations

import os

import pytest

from publisher.workshop import second_hands


def _where(_: int) -> int:
    return os.getpid()


@pytest.fixture(params=["two cores", "one core", "cores cannot be counted"])
def machine(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> str:
    if request.param == "cores cannot be counted":
        monkeypatch.delattr(os, "sched_getaffinity", raising=False)
    else:
        cores = {0, 1} if request.param == "two cores" else {0}
        monkeypatch.setattr(os, "sched_getaffinity", lambda _: cores, raising=False)
    return str(request.param)


def test_results_come_back_in_the_order_they_are_asked_for(machine: str) -> None:
    with second_hands() as handed:
        later = [handed(divmod, n, 3) for n in range(6)]
        found = [ask() for ask in reversed(later)]
    assert found == [divmod(n, 3) for n in reversed(range(6))]


def test_what_fails_there_is_raised_here(machine: str) -> None:
    with second_hands() as handed:
        failing = handed(divmod, 1, 0)
        with pytest.raises(ZeroDivisionError):
            failing()


@pytest.mark.skipif(not hasattr(os, "fork"), reason="no second process without fork")
def test_only_a_second_core_brings_a_second_process(machine: str) -> None:
    with second_hands() as handed:
        elsewhere = handed(_where, 0)() != os.getpid()
    assert elsewhere == (machine == "two cores")
