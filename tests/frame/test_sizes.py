"""A module does one thing."""

import statistics

from tests.frame.modules import modules

LONGEST = 300
LONGER = {
    # Values only: one list of what a pattern is made of reads better than three.
    "publisher/language/ast.py": 450,
    "publisher/model/types.py": 420,
}
"""Modules that may be longer, how long, and why. Keep this list short."""


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
