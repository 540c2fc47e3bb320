"""What a pattern decides for itself about the checks, each with its reason.

Two keys of the front matter: ``practice`` sets a threshold of ``practice.toml`` for this
pattern, ``waive`` lets a finding stand. Several stand between semicolons.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from datetime import date

from msgspec import Struct

from publisher.trade.cutting import Key

_PRACTICE = re.compile(
    r"(?P<name>[a-z][a-z ]*?) is (?P<figure>\d+(?:\.\d+)?) ?(?P<unit>mm|in|gsm|degrees|calipers|)"
    r",? because (?P<reason>\S.*)"
)
_WAIVER = re.compile(
    r"(?P<code>[a-z]+(?:-[a-z]+)*)(?: (?:in|of|on) (?P<subject>[^,]+))?,"
    r" (?P<date>\d{4}-\d{2}-\d{2}),? because (?P<reason>\S.*)"
)
MM_PER_INCH = 25.4


class OwnPractice(Struct, frozen=True):
    """``name`` as the author wrote it: a threshold's name, its unit left out. ``unit`` is as
    written, "" for none."""

    name: str
    value: float
    unit: str
    reason: str


class Waiver(Struct, frozen=True):
    """``subject`` is a part of what the finding is about, "" for all of that code. ``date`` is
    the day on which it was decided, ISO 8601."""

    code: str
    subject: str
    date: str
    reason: str


class Own(Struct, frozen=True):
    """All of it, in the order written."""

    practices: tuple[OwnPractice, ...] = ()
    waivers: tuple[Waiver, ...] = ()


def read_own(values: Mapping[str, str]) -> Own:
    """From the front matter's values; what cannot be read was refused before."""
    return Own(
        _practices(values.get("practice", "")) or (), _waivers(values.get("waive", "")) or ()
    )


def _items(said: str) -> list[str]:
    return [item.strip() for item in said.split(";") if item.strip()]


def _practices(said: str) -> tuple[OwnPractice, ...] | None:
    found = []
    for item in _items(said):
        match = _PRACTICE.fullmatch(item)
        if match is None:
            return None
        inches = match["unit"] == "in"
        value = float(match["figure"]) * (MM_PER_INCH if inches else 1.0)
        unit = "mm" if inches else match["unit"]
        found.append(OwnPractice(match["name"], value, unit, match["reason"]))
    return tuple(found)


def _waivers(said: str) -> tuple[Waiver, ...] | None:
    found = []
    for item in _items(said):
        match = _WAIVER.fullmatch(item)
        if match is None or not _is_day(match["date"]):
            return None
        subject = (match["subject"] or "").strip()
        found.append(Waiver(match["code"], subject, match["date"], match["reason"]))
    return tuple(found)


def _is_day(text: str) -> bool:
    try:
        date.fromisoformat(text)
    except ValueError:
        return False
    return True


OWN_KEYS = (
    Key(
        "practice",
        "such as ‘tab depth least is 6 mm, because the box is a doll’s’",
        fits=lambda v: bool(_practices(v)),
    ),
    Key(
        "waive",
        "such as ‘tab-too-narrow in tray, 2026-01-31, because clips hold it’",
        fits=lambda v: bool(_waivers(v)),
    ),
)
