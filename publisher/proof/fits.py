"""Each fit of a pattern as the sheet shows it: verdict, sum, margins, makers, rulers."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from msgspec import Struct

from publisher.checks.types import CheckResult
from publisher.units import FirstUnit, both, one

MAKING = "fails-in-the-making"
RULERS = "ruler-breaks-fit"
WORDS = {"least": "wanted at least", "most": "wanted at most"}
OF_BORDERS = {"least": "narrowest", "greatest": "widest"}
FULL_MM = 5.0
"""A margin with one end alone fills its bar at so much."""


class Bar(Struct, frozen=True):
    """One margin. ``share`` is where the figure lies between its ends, 0 to 1; ``ends`` says
    what these are ("least" and "most", or "least" alone)."""

    what: str
    spare_mm: float
    share: float
    ends: tuple[str, ...]
    said: str


class Fit(Struct, frozen=True):
    """One fit. ``sum`` are its figures as (what, how much), ``makers`` and ``rulers`` sentences,
    "" where nothing was reckoned. ``numbers`` are the check's own."""

    subject: str
    sentence: str
    holds: bool
    sum: tuple[tuple[str, str], ...]
    bars: tuple[Bar, ...]
    makers: str
    rulers: tuple[str, ...]
    numbers: tuple[tuple[str, float], ...]


def fits_of(checks: Iterable[CheckResult], first: FirstUnit) -> tuple[Fit, ...]:
    """Every check whose verdict is a matter of lengths, in the order of the checks."""
    every = tuple(checks)
    ruled = [r for r in every if r.code == RULERS]
    found = []
    for result in every:
        if not result.slack:
            continue
        making = next((r for r in every if r.code == MAKING and r.subject == result.subject), None)
        found.append(
            Fit(
                result.subject,
                _titled(result.sentence),
                result.result == "pass",
                tuple(_sum(result, first)),
                tuple(_bars(result, first)),
                making.sentence.removeprefix(f"{result.subject}: ") if making else "",
                tuple(_rulers(result, ruled)) if making else (),
                result.numbers,
            )
        )
    return tuple(found)


def _titled(sentence: str) -> str:
    return f"{sentence[:1].upper()}{sentence[1:]}."


def _sum(result: CheckResult, first: FirstUnit) -> Iterator[tuple[str, str]]:
    for name, value in result.numbers:
        words = name.removesuffix("_mm").replace("_", " ")
        if name.endswith("_mm") and not words.startswith("ring "):
            told = OF_BORDERS if result.code == "border-uneven" else WORDS
            yield told.get(words, words), both(value + 0.0, kind="thin", first=first)


def _bars(result: CheckResult, first: FirstUnit) -> Iterator[Bar]:
    """A way that has a least and a most is one bar between the two."""
    slack = dict(result.slack)
    for way, mm in result.slack:
        if way.startswith("most ") and f"least {way[5:]}" in slack:
            continue
        most = slack.get(f"most {way[6:]}") if way.startswith("least ") else None
        what = way.removeprefix("least ").removeprefix("most ")
        ring = re.fullmatch(r"ring (\d+) even", what)
        what = f"notch {ring.group(1)}" if ring else what
        if most is None:
            said = _spare(mm, "to spare", first)
            yield Bar(what, mm, _clipped(mm / FULL_MM), (way.split(" ")[0],), said)
            continue
        whole = mm + most
        over, under = _spare(mm, "above least", first), _spare(most, "below most", first)
        share = _clipped(mm / whole if whole > 1e-9 else 0.0)
        yield Bar(what, min(mm, most), share, ("least", "most"), f"{over}, {under}")


def _spare(mm: float, where: str, first: FirstUnit) -> str:
    said = one(abs(mm), kind="thin", unit=first)
    return f"{said} {where}" if mm >= -1e-9 else f"{said} is missing"


def _clipped(share: float) -> float:
    return min(1.0, max(0.0, share))


def _rulers(result: CheckResult, ruled: list[CheckResult]) -> Iterator[str]:
    for unit in ("millimetres", "inches"):
        own = next(
            (r for r in ruled if r.subject == f"{result.subject} by a ruler in {unit}"), None
        )
        if own is not None:
            yield f"{unit}: {own.sentence.partition(': ')[2]}"
        elif any(r.subject.endswith(unit) for r in ruled):
            yield f"{unit}: fits"
