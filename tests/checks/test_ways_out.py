"""The short test of ways out: content patterns gone wrong, and what is offered leads out.

``python -m tests.checks.ways_out`` is the long one.
"""

from __future__ import annotations

import pytest

from tests.checks.ways_out import figures, run, text_of


@pytest.mark.parametrize(("name", "count", "two"), [("envelope", 4, 0.5), ("sliding-box", 2, 0.0)])
def test_ways_out_lead_out_and_are_found(name: str, count: int, two: float) -> None:
    found = run(name, count, seed=5, two=two)
    assert found.failing == count
    assert found.wrong == []
    assert found.ways >= found.offered >= 0.9 * found.mendable > 0


def test_all_figures_of_the_sizes_are_changed() -> None:
    text = text_of("envelope")
    assert [text[a:b] for a, b in figures(text)] == [
        *("148", "105", "1"),
        *("6", "18", "67", "55", "10"),
    ]
