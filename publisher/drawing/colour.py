"""Colours as ``#rrggbb``: mixing, and contrast as WCAG 2.2 counts it."""

from __future__ import annotations

import re
from typing import TypeAlias

Rgb: TypeAlias = tuple[int, int, int]

_HEX = re.compile(r"#[0-9a-fA-F]{6}")

# Okabe and Ito's set, told apart by all common kinds of colour sight. Okabe & Ito 2002;
# Wong, "Points of view: Color blindness", Nature Methods 8:441 (2011).
OKABE_ITO = {
    "black": "#000000",
    "orange": "#e69f00",
    "sky blue": "#56b4e9",
    "bluish green": "#009e73",
    "yellow": "#f0e442",
    "blue": "#0072b2",
    "vermillion": "#d55e00",
    "reddish purple": "#cc79a7",
}


def is_colour(text: str) -> bool:
    """Whether the text is a colour in the one form that is used here, ``#rrggbb``."""
    return _HEX.fullmatch(text) is not None


def rgb(colour: str) -> Rgb:
    """Red, green and blue, 0 to 255.

    Raises:
        ValueError: not of the form ``#rrggbb``.
    """
    if not is_colour(colour):
        raise ValueError(f"{colour!r} is not a colour of the form #rrggbb")
    return (int(colour[1:3], 16), int(colour[3:5], 16), int(colour[5:7], 16))


def mixed(colour: str, other: str, share: float) -> str:
    """``colour`` with ``share`` (0 to 1) of ``other`` in it, channel by channel."""
    parts = zip(rgb(colour), rgb(other), strict=True)
    return "#" + "".join(f"{round(a + (b - a) * share):02x}" for a, b in parts)


def luminance(colour: str) -> float:
    """Relative luminance, 0 to 1, by the formula of WCAG 2.2."""

    def channel(value: int) -> float:
        c = value / 255.0
        return c / 12.92 if c <= 0.04045 else float(((c + 0.055) / 1.055) ** 2.4)

    red, green, blue = (channel(v) for v in rgb(colour))
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(colour: str, other: str) -> float:
    """Contrast ratio, 1 to 21 (WCAG 2.2, success criterion 1.4.3)."""
    light, dark = sorted((luminance(colour), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)
