from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from publisher.drawing.dashes import fitted

VALLEY = (1.5, 1.0)
MOUNTAIN = (4.0, 0.9, 0.5, 0.9, 0.5, 0.9)
LENGTHS = st.floats(0.5, 300.0)


@pytest.mark.parametrize("pattern", [VALLEY, MOUNTAIN])
@given(length=LENGTHS)
def test_a_line_begins_and_ends_with_a_dash(pattern: tuple[float, ...], length: float) -> None:
    dash = fitted(pattern, length)
    period = sum(dash)
    whole = (length + sum(dash[1:])) / period
    assert whole == pytest.approx(round(whole), abs=1e-6)
    assert round(whole) >= 2


@pytest.mark.parametrize("pattern", [VALLEY, MOUNTAIN])
@given(length=LENGTHS)
def test_a_ring_is_filled_evenly(pattern: tuple[float, ...], length: float) -> None:
    whole = length / sum(fitted(pattern, length, closed=True))
    assert whole == pytest.approx(round(whole), abs=1e-6)


@given(length=st.floats(20.0, 300.0))
def test_a_long_line_keeps_its_pattern(length: float) -> None:
    dash = fitted(MOUNTAIN, length)
    assert dash[1:] == MOUNTAIN[1:]
    assert 0.6 * 4.0 <= dash[0] <= 1.5 * 4.0


def test_what_is_unbroken_or_dotted_stays_so() -> None:
    assert fitted((), 10.0) == ()
    assert fitted((0.0, 0.8), 10.0) == (0.0, 0.8)
    assert fitted(VALLEY, 0.0) == VALLEY


@given(length=st.floats(3.6, 9.0))
def test_on_a_short_line_dots_are_told_from_dashes(length: float) -> None:
    """It has one dot or two, and each dash is much longer than they are: no row of dots, and no
    valley, which has none."""
    dash, gap, dot, *_ = fitted(MOUNTAIN, length)
    assert dash > 2.3 * dot
    assert dot > 0.25
    assert gap > 0.4
