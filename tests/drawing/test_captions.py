"""Captions speak of what the picture names: the parts that turn, and a band by its name."""

from __future__ import annotations

import re

import pytest

from publisher.booklet.orders import order
from publisher.drawing.space_view import shown_action, told_frames
from publisher.model.types import BandOf
from tests.drawing.test_view_content import NAMES, told


def captions(name: str) -> list[str]:
    pattern, story, _ = told(name)
    return [order(shown_action(pattern, frame)) for frame in told_frames(pattern, story)]


def test_a_row_is_called_by_the_sides_that_turn() -> None:
    """Side 2 stands still: the first crease turns side 1."""
    assert "Fold sides 1, 3 and 4 and the seam of the lantern" in captions("lantern")


def test_a_band_is_called_by_its_own_name() -> None:
    said = captions("sliding-box")
    assert "Set the drawer on the sleeve" in said
    assert "Fold the overlap of the sleeve around the drawer" in said
    assert "Fold the sleeve around the drawer" in said


@pytest.mark.parametrize("name", NAMES)
def test_no_caption_has_a_number_that_nobody_finds(name: str) -> None:
    bands = [p.name for p in told(name)[0].pieces if isinstance(p.derived, BandOf)]
    for said in captions(name):
        assert not [b for b in bands if re.search(rf"panels? \d.* of the {b}\b", said)], said
