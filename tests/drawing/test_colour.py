from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from publisher.drawing.colour import contrast, is_colour, luminance, mixed, rgb

COLOURS = st.tuples(*[st.integers(0, 255)] * 3).map(lambda c: "#{:02x}{:02x}{:02x}".format(*c))


@pytest.mark.parametrize("text", ["red", "#fff", "#12345g", "123456", "#1234567", ""])
def test_other_forms_are_no_colours(text: str) -> None:
    assert not is_colour(text)
    with pytest.raises(ValueError, match="#rrggbb"):
        rgb(text)


def test_mixing_goes_from_one_to_the_other() -> None:
    assert mixed("#102030", "#f0e0d0", 0.0) == "#102030"
    assert mixed("#102030", "#f0e0d0", 1.0) == "#f0e0d0"
    assert mixed("#000000", "#ffffff", 0.5) == "#808080"


@given(COLOURS, COLOURS)
def test_contrast_is_symmetric_and_bounded(a: str, b: str) -> None:
    assert contrast(a, b) == contrast(b, a)
    assert 1.0 <= contrast(a, b) <= 21.0 + 1e-9


@given(COLOURS, COLOURS, st.floats(0.0, 1.0))
def test_a_mixture_lies_between(a: str, b: str, share: float) -> None:
    for mix, x, y in zip(rgb(mixed(a, b, share)), rgb(a), rgb(b), strict=True):
        assert min(x, y) <= mix <= max(x, y)


def test_luminance_of_black_and_white() -> None:
    assert luminance("#000000") == 0.0
    assert luminance("#ffffff") == pytest.approx(1.0)
