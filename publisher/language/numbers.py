"""Numbers as they are written: whole, decimal, fraction, mixed; and the units after them."""

from __future__ import annotations

import re
from typing import cast

from publisher.language.ast import Unit

FRACTION_SIGNS: dict[str, tuple[int, int]] = {
    "½": (1, 2),
    "⅓": (1, 3),
    "⅔": (2, 3),
    "¼": (1, 4),
    "¾": (3, 4),
    "⅛": (1, 8),
    "⅜": (3, 8),
    "⅝": (5, 8),
    "⅞": (7, 8),
}

_SIGNS = "".join(FRACTION_SIGNS)
NUMBER = re.compile(
    rf"\d+\s*[{_SIGNS}]|[{_SIGNS}]|\d+[ \t]+\d+/\d+(?![\w/])|\d+/\d+(?![\w/])|\d+\.\d+|\.\d+|\d+"
)
UNIT = re.compile(r"[ \t]*(mm|cm|in|pt|degrees?|seconds?|minutes?|hours?)(?![\w-])", re.IGNORECASE)

OTHER_UNITS: dict[str, tuple[float, Unit]] = {
    "inch": (1, "in"),
    "inches": (1, "in"),
    '"': (1, "in"),
    "″": (1, "in"),
    "”": (1, "in"),
    "ft": (12, "in"),
    "foot": (12, "in"),
    "feet": (12, "in"),
    "mms": (1, "mm"),
    "mil": (0.001, "in"),
    "mils": (0.001, "in"),
    "thou": (0.001, "in"),
    "millimetre": (1, "mm"),
    "millimetres": (1, "mm"),
    "millimeter": (1, "mm"),
    "millimeters": (1, "mm"),
    "cms": (1, "cm"),
    "centimetre": (1, "cm"),
    "centimetres": (1, "cm"),
    "centimeter": (1, "cm"),
    "centimeters": (1, "cm"),
    "m": (1000, "mm"),
    "metre": (1000, "mm"),
    "metres": (1000, "mm"),
    "meter": (1000, "mm"),
    "meters": (1000, "mm"),
    "px": (0, ""),
    "pixel": (0, ""),
    "pixels": (0, ""),
    "pts": (1, "pt"),
    "deg": (1, "degrees"),
    "°": (1, "degrees"),
    "sec": (1, "seconds"),
    "secs": (1, "seconds"),
    "mins": (1, "minutes"),
}
"""Units that are not the language's: how many of which one to write. 0 where none fits."""

OTHER_UNIT = re.compile(
    r"[ \t]*("
    + "|".join(sorted((re.escape(u) for u in OTHER_UNITS if u.isalpha()), key=len, reverse=True))
    + r')(?![\w-])|["″”°]',
    re.IGNORECASE,
)


_ONE_OF = frozenset({"degree", "second", "minute", "hour"})


def amount(text: str) -> float | None:
    """The value of a number; None for a division by nothing."""
    total = 0.0
    for part in re.sub(rf"([{_SIGNS}])", r" \1", text).split():
        if part in FRACTION_SIGNS:
            above, below = FRACTION_SIGNS[part]
            total += above / below
        elif "/" in part:
            above, below = (int(p) for p in part.split("/"))
            if below == 0:
                return None
            total += above / below
        else:
            total += float(part)
    return total


def split_measure(text: str) -> tuple[str, Unit]:
    """``5 1/4 in`` as (``5 1/4``, ``in``); ``1 hour`` is in ``hours``."""
    match = re.search(r"[a-z]+$", text.lower())
    unit = match.group() if match else ""
    number = text[: len(text) - len(unit)].rstrip()
    return number, cast(Unit, f"{unit}s" if unit in _ONE_OF else unit)
