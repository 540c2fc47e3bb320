"""Corners as a part of a shape or a mat, by areas worked out by hand."""

from __future__ import annotations

import math

import pytest

from publisher.geometry.measure import area, signed_area
from tests.model.making import faults_of, made, piece, word
from tests.model.sources import FRONT

CARD = "outline rectangle, 60 x 40 mm\n"
AWAY = 1.0 - math.pi / 4.0


def test_a_window_with_rounded_corners() -> None:
    card = piece(CARD + "window rectangle, 30 x 20 mm, rounded corners, 4 mm radius, at middle")
    assert abs(signed_area(card.openings[0].path)) == pytest.approx(600.0 - 4.0 * AWAY * 16.0)
    assert (card.openings[0].width_mm, card.openings[0].depth_mm) == (30.0, 20.0)


def test_each_corner_of_a_shape_on_its_own() -> None:
    tag = piece(
        "outline rectangle, 60 x 40 mm, bevelled corners, 10 mm deep at top left and top right"
    )
    assert area(tag.outline) == pytest.approx(2400.0 - 2.0 * 50.0)
    xs = sorted({p.start[0] for p in tag.outline.outer.segments})
    assert xs == pytest.approx([0.0, 10.0, 50.0, 60.0])


def test_scooped_corners() -> None:
    label = piece("outline rectangle, 60 x 40 mm, scooped corners, 6 mm radius")
    assert area(label.outline) == pytest.approx(2400.0 - math.pi * 36.0)


def mats(line: str) -> float:
    text = (
        f"{FRONT}```piece label, in card\n{CARD}```\n\n"
        f"```piece backing, in card\n{line}\n```\n\n```step\nlay label\nlay backing\n```\n"
    )
    return area(made(text).piece("backing").outline)


def test_a_mat_with_bevelled_corners() -> None:
    assert mats("mat behind label, 3 mm border") == pytest.approx(66.0 * 46.0)
    # By the border: what an offset with straight cuts at the corners gives.
    assert mats("mat behind label, 3 mm border, bevelled corners") == pytest.approx(
        66.0 * 46.0 - 4.0 * 4.5
    )
    # With rounds of the border: Steiner, A + P b + pi b^2.
    assert mats("mat behind label, 3 mm border, rounded corners") == pytest.approx(
        2400.0 + 200.0 * 3.0 + math.pi * 9.0
    )
    assert mats("mat on label, 3 mm border, rounded corners, 5 mm radius") == pytest.approx(
        54.0 * 34.0 - 4.0 * AWAY * 25.0
    )


@pytest.mark.parametrize(
    ("lines", "code", "said"),
    [
        (
            CARD + "window rectangle, 30 x 20 mm, rounded corners, at middle",
            "missing-phrase",
            "win",
        ),
        (
            CARD + "window rectangle, 30 x 20 mm, rounded corners, 11 mm radius, at middle",
            "corner-too-large",
            "11 mm",
        ),
        (
            "outline rectangle, 60 x 40 mm, rounded corners, 4 mm radius at middle",
            "wrong-place",
            "middle",
        ),
        ("outline circle, 60 mm across, rounded corners", "unknown-word", "rounded corners"),
    ],
)
def test_mistakes_are_told_at_their_word(lines: str, code: str, said: str) -> None:
    found = faults_of(lines)
    assert [f.code for f in found] == [code]
    text = f"{FRONT}```piece trial, in card\n{lines}\n```\n"
    assert word(text, found[0]).startswith(said)
