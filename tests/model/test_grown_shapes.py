"""Shapes grown and shrunk, by the Steiner formula and by hand."""

from __future__ import annotations

import math

import pytest

from publisher.geometry.measure import area
from publisher.geometry.path import Arc
from tests.model.making import faults_of, piece, word
from tests.model.sources import FRONT


def test_grown_with_each_kind_of_corner() -> None:
    # A P b: 60 x 40 has an area of 2400 and is 200 round.
    grown = {
        "": 66.0 * 46.0,
        ", rounded": 2400.0 + 200.0 * 3.0 + math.pi * 9.0,
        ", bevelled": 66.0 * 46.0 - 4.0 * 4.5,
    }
    for corners, wanted in grown.items():
        card = piece(f"outline rectangle, 60 x 40 mm, grown by 3 mm{corners}")
        assert area(card.outline) == pytest.approx(wanted)


def test_shrunk_arcs_stay_arcs() -> None:
    card = piece("outline rectangle, 60 x 40 mm, rounded corners, 8 mm radius, shrunk by 3 mm")
    radii = {s.radius_mm for s in card.outline.outer.segments if isinstance(s, Arc)}
    assert sorted(radii) == pytest.approx([5.0] * len(radii))
    assert area(card.outline) == pytest.approx(54.0 * 34.0 - (4.0 - math.pi) * 25.0)


def test_a_window_grown_knows_its_size() -> None:
    card = piece(
        "outline rectangle, 90 x 90 mm\n"
        "window polygon, 6 sides, 40 mm across, grown by 2 mm, at middle"
    )
    # The circle through the corners grows by 2 / cos(30 degrees).
    across = 40.0 + 4.0 / math.cos(math.radians(30.0))
    assert card.openings[0].width_mm == pytest.approx(across)


@pytest.mark.parametrize(
    ("lines", "code", "said"),
    [
        ("outline rectangle, 60 x 40 mm, shrunk by 20 mm", "shape-closed", "20 mm"),
        ("outline rectangle, 60 x 40 mm, grown by 0 mm", "not-positive", "0 mm"),
        ("outline rectangle, 60 x 40 mm, grown", "missing-phrase", "outline"),
        ("outline circle, 40 mm across, grown by 2 mm, shrunk by 1 mm", "said-twice", "1 mm"),
    ],
)
def test_mistakes_are_told_at_their_word(lines: str, code: str, said: str) -> None:
    found = faults_of(lines)
    assert [f.code for f in found] == [code]
    text = f"{FRONT}```piece trial, in card\n{lines}\n```\n"
    assert word(text, found[0]).startswith(said)
