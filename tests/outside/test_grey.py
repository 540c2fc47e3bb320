"""The signs of the legend on a printer without colour, drawn by a renderer that is not ours.

What a maker prints is told apart by shape and lightness alone. The weights of red, green and
blue are those of ITU-R BT.601, as Pillow's mode L has them. That a tenth of full scale is seen
on ordinary paper is common practice, no source.
"""

from __future__ import annotations

import io
from functools import cache
from itertools import combinations
from pathlib import Path

import numpy as np
import numpy.typing as npt
import pytest
from PIL import Image

from publisher.drawing.legend import draw_sign
from publisher.drawing.png import to_png
from publisher.drawing.signs import SIGNS
from publisher.drawing.svg import to_svg
from publisher.drawing.theme import parse_theme
from tests.handmade import CARD

THEME = Path(__file__).parents[2] / "themes" / "potting-shed" / "theme.toml"
PX = 213  # 18 mm at 300 dots an inch
SEEN = 25.5  # of 255
LEAST_SHARE = 0.02


@cache
def grey(key: str) -> npt.NDArray[np.float64]:
    theme = parse_theme(THEME.read_text(encoding="utf-8"))
    picture = to_png(to_svg(draw_sign(key, CARD.name), theme, {CARD.name: CARD}), PX)
    return np.asarray(Image.open(io.BytesIO(picture)).convert("L"), dtype=float)


@pytest.mark.parametrize(("a", "b"), list(combinations(SIGNS, 2)))
def test_signs_are_told_apart_in_grey(a: str, b: str) -> None:
    apart = np.abs(grey(a) - grey(b)) > SEEN
    assert apart.mean() >= LEAST_SHARE, f"{a} and {b} differ in {apart.mean():.1%} of their area"


@pytest.mark.parametrize("key", SIGNS)
def test_every_sign_stands_out_from_the_page(key: str) -> None:
    dark = grey(key) < 255.0 - 3.0 * SEEN
    assert dark.mean() >= 0.005
