"""Colours against published figures."""

from __future__ import annotations

from pathlib import Path
from typing import get_args

import pytest

from publisher.drawing.colour import OKABE_ITO, contrast, luminance, rgb
from publisher.drawing.theme import Theme, parse_theme
from publisher.drawing.types import LineRole

THEMES = sorted((Path(__file__).parents[2] / "themes").glob("*/theme.toml"))


@pytest.fixture(params=THEMES, ids=lambda p: p.parent.name)
def theme(request: pytest.FixtureRequest) -> Theme:
    return parse_theme(request.param.read_text(encoding="utf-8"))


# WCAG 2.2, success criteria 1.4.3, 1.4.6 and 1.4.11: the grey that is the lightest to pass
# 4.5 on white and the next that fails, the one that passes 7, the one that passes 3; and three
# primaries. Worked out from the formula in the recommendation's definition of contrast ratio.
@pytest.mark.parametrize(
    ("colour", "ratio"),
    [
        ("#000000", 21.0),
        ("#767676", 4.542),
        ("#777777", 4.478),
        ("#595959", 7.005),
        ("#949494", 3.033),
        ("#ff0000", 3.998),
        ("#0000ff", 8.592),
        ("#008000", 5.137),
    ],
)
def test_contrast_ratio(colour: str, ratio: float) -> None:
    assert contrast(colour, "#ffffff") == pytest.approx(ratio, abs=6e-4)


# Okabe and Ito 2002, as printed in Wong, "Points of view: Color blindness", Nature Methods
# 8:441 (2011).
def test_the_colour_blind_safe_set() -> None:
    assert [rgb(c) for c in OKABE_ITO.values()] == [
        (0, 0, 0),
        (230, 159, 0),
        (86, 180, 233),
        (0, 158, 115),
        (240, 228, 66),
        (0, 114, 178),
        (213, 94, 0),
        (204, 121, 167),
    ]


def test_accents_come_from_that_set(theme: Theme) -> None:
    assert 1 <= len(theme.accents) <= 5
    for accent in theme.accents.values():
        assert accent.colour.lower() == OKABE_ITO[accent.of]
        assert luminance(accent.text) <= luminance(accent.colour)


# WCAG 2.2, 1.4.3: text 4.5 to 1; 1.4.11: graphics that carry meaning 3 to 1.
def test_words_can_be_read(theme: Theme) -> None:
    grounds = [theme.paper.page, theme.colours["cream"]]
    words = [accent.text for accent in theme.accents.values()]
    words += [style.colour for style in theme.labels.values()]
    words += [theme.colours["ink"], theme.colours["soft-ink"]]
    for ground in grounds:
        for colour in words:
            assert contrast(colour, ground) >= 4.5, (colour, ground)


def test_accents_can_be_seen_on_the_page(theme: Theme) -> None:
    for accent in theme.accents.values():
        assert contrast(accent.colour, theme.paper.page) >= 3.0


# ISO 128-2:2020 gives line widths in steps of the root of two; the series is from memory.
def test_line_widths_are_standard_ones(theme: Theme) -> None:
    series = {0.13, 0.18, 0.25, 0.35, 0.5, 0.7, 1.0}
    for role in get_args(LineRole):
        assert theme.lines[role].width_mm in series, role
