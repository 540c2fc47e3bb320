"""A module does one thing."""

import statistics

from tests.frame.modules import modules

LONGEST = 300
LONGER: dict[str, int] = {}
"""Modules that may be longer, and how long. Keep this list short."""


def test_modules_are_short() -> None:
    lengths = {m.shown: len(m.text.splitlines()) for m in modules()}
    too_long = {
        name: length for name, length in lengths.items() if length > LONGER.get(name, LONGEST)
    }
    assert too_long == {}


def test_the_exceptions_are_still_needed() -> None:
    lengths = {m.shown: len(m.text.splitlines()) for m in modules()}
    assert [name for name in LONGER if lengths.get(name, 0) <= LONGEST] == []
    assert len(LONGER) <= 3


def test_most_modules_are_shorter_still() -> None:
    assert statistics.median(len(m.text.splitlines()) for m in modules()) < 150
