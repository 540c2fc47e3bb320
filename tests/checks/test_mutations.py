"""The short mutation test: every check against brute force, three mutations each.

``python -m tests.checks.mutations 2000`` is the long one.
"""

from __future__ import annotations

from types import ModuleType

import pytest

from publisher.checks import making_verdicts, ranges, ruler_verdicts, small_parts
from publisher.checks.rules import grain, pictures, provable, sides_said
from publisher.checks.run import RULES
from tests.checks.brute import apart, area_outside, crosses_itself, least_width
from tests.checks.mutations import CHECKS, run

WORDS = {provable, sides_said, pictures}
"""What no size and no line of a drawing can break: a verb without proof, a side without a face, a
picture without words. Their own tests are in ``test_trade_rules.py``."""

SQUARE = [(0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0), (0.0, 0.0)]


@pytest.mark.parametrize("name", CHECKS)
def test_verdicts_agree_with_brute_force(name: str) -> None:
    found = run(name, 3, seed=7)
    assert (found.made, found.escapes, found.false_alarms) == (3, 0, 0)


def test_every_check_has_its_mutation() -> None:
    mutated = {rule.__name__ for rule, _, _ in CHECKS.values() if isinstance(rule, ModuleType)}
    assert mutated == {r.__name__ for r in (*RULES, grain) if r not in WORDS}
    thorough = {code for _, codes, _ in CHECKS.values() for code in codes}
    assert {small_parts.CODE, making_verdicts.CODE, ruler_verdicts.CODE, ranges.CODE} <= thorough


def test_brute_force_measures_what_is_known() -> None:
    """Figures of a square of side 10, and of one turned by 45 degrees."""
    assert least_width(SQUARE) == pytest.approx(10)
    turned = [(0.0, 5.0), (5.0, 0.0), (10.0, 5.0), (5.0, 10.0), (0.0, 5.0)]
    assert least_width(turned) == pytest.approx(50**0.5)
    assert not crosses_itself(SQUARE)
    assert crosses_itself([(0.0, 0.0), (10.0, 10.0), (10.0, 0.0), (0.0, 10.0), (0.0, 0.0)])
    far = [(13.0, 14.0), (20.0, 14.0)]
    assert apart(SQUARE, far) == pytest.approx(5)
    half = [(5.0, 0.0), (15.0, 0.0), (15.0, 10.0), (5.0, 10.0), (5.0, 0.0)]
    assert area_outside(half, [SQUARE], 0.0) == pytest.approx(50, abs=1.5)
