from __future__ import annotations

import io
from pathlib import Path

import pytest
from PIL import Image, ImageChops

from publisher.drawing.legend import HEIGHT_MM, WIDTH_MM, draw_sign
from publisher.drawing.png import to_png
from publisher.drawing.signs import SIGNS
from publisher.drawing.space_view import draw_story
from publisher.drawing.svg import to_svg
from publisher.drawing.theme import Theme, parse_theme
from publisher.drawing.types import Fill, Stroke
from publisher.geometry.measure import path_bounds
from tests.compiled import compile_text
from tests.handmade import CARD

THEME = Path(__file__).parents[2] / "themes/potting-shed/theme.toml"


@pytest.fixture(scope="module")
def theme() -> Theme:
    return parse_theme(THEME.read_text(encoding="utf-8"))


@pytest.mark.parametrize("key", SIGNS)
def test_every_sign_has_a_picture_that_stays_in_its_field(key: str) -> None:
    sign = draw_sign(key, "card")
    assert (sign.width_mm, sign.height_mm) == (WIDTH_MM, HEIGHT_MM)
    assert sign.signs == (key,)
    assert SIGNS[key] in sign.alt
    for item in sign.items:
        paths = item.rings if isinstance(item, Fill) else item.paths
        assert isinstance(item, Fill | Stroke)
        for path in paths:
            x0, y0, x1, y1 = path_bounds(path)
            assert x0 >= -1.0
            assert y0 >= -1.0
            assert x1 <= WIDTH_MM + 1.0
            assert y1 <= HEIGHT_MM + 1.0


def test_an_unknown_sign_is_a_mistake_of_ours() -> None:
    with pytest.raises(KeyError):
        draw_sign("scissors")


def test_signs_differ_in_grey(theme: Theme) -> None:
    """At 300 dots to the inch and without colour, no two signs look alike.

    A difference counts from 10 of 256 greys on, which is more than printing loses.
    """
    pictures = {
        key: Image.open(
            io.BytesIO(to_png(to_svg(draw_sign(key, "card"), theme, {"card": CARD}), 212))
        ).convert("L")
        for key in SIGNS
    }
    keys = list(pictures)
    for n, a in enumerate(keys):
        for b in keys[n + 1 :]:
            difference = ImageChops.difference(pictures[a], pictures[b])
            strong = sum(difference.histogram()[10:])
            assert strong >= 60, f"{a} and {b} look alike ({strong} pixels differ)"


def test_curling_has_a_sign_of_its_own() -> None:
    text = (
        "```piece tube, in card\noutline rectangle, 200 x 60 mm\n```\n\n```step\ncurl tube\n```\n"
    )
    outcome = compile_text(text)
    assert outcome.story is not None
    told = outcome.story.handled or outcome.pattern
    assert told is not None
    signs = draw_story(told, outcome.story)[0].signs
    assert "curl-arrow" in signs
    assert not {s for s in signs if s.startswith("fold-arrow")}
