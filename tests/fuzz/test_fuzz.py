"""The short run: the same texts every time."""

from __future__ import annotations

import random

import pytest

from tests.fuzz.__main__ import trial
from tests.fuzz.mutate import sources, spoilt

BUSY_S = 8.0
"""A hang, even beside other tests on a slow machine; the two seconds are held by the long run,
which is alone."""


@pytest.mark.parametrize("seed", range(12))
def test_spoilt_patterns_are_answered(seed: int) -> None:
    chance = random.Random(seed)
    texts = sources()
    assert len(texts) > 10
    for _ in range(10):
        text = spoilt(texts, chance)
        assert trial(text, BUSY_S) == "", text
