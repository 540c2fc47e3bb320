"""Which patterns lead the site."""

from __future__ import annotations

from pathlib import Path

from msgspec.structs import replace

from publisher.workshop import in_front_order, open_workshop
from publisher.workshop.settings import read_settings

ROOT = Path(__file__).parents[2]
NAMES = ("envelope", "lantern", "sliding-box")


def order(first: str) -> tuple[tuple[str, ...], list[str]]:
    workshop, _ = open_workshop(ROOT)
    settings = replace(workshop.settings, first=first)
    names, wrong = in_front_order(replace(workshop, settings=settings), NAMES)
    return names, [d.message for d in wrong]


def test_those_named_first_come_first_in_their_order() -> None:
    assert order("sliding-box, lantern") == (("sliding-box", "lantern", "envelope"), [])
    assert order("") == (NAMES, [])


def test_what_is_not_built_now_leads_nothing() -> None:
    assert order("lidded-box, lantern") == (("lantern", "envelope", "sliding-box"), [])


def test_a_name_that_no_folder_has_is_told_with_the_nearest() -> None:
    names, wrong = order("lantren")
    assert names == NAMES
    assert wrong == ["there is no pattern ‘lantren’ that could come first"]


def test_the_line_is_read() -> None:
    settings, wrong = read_settings('first = "lantern, envelope"')
    assert (settings.first, wrong) == ("lantern, envelope", ())
