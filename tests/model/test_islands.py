"""Islands and bridges: what stays, what holds it, and how far a bridge runs."""

from __future__ import annotations

import math

import pytest

from publisher.geometry.measure import area
from tests.model.making import faults_of, piece, word
from tests.model.sources import FRONT

CARD = "outline rectangle, 80 x 80 mm\nwindow rectangle, 60 x 60 mm, at middle, called pane\n"
STAR = CARD + "island star, 5 points, 40 mm across, at middle of pane, called star\n"


def test_a_bridge_runs_back_until_all_its_width_is_card() -> None:
    star = piece(STAR + "bridge 3 mm wide, out from each tip of star")
    # A pentagram's tip has 36 degrees: 3 / (2 tan 18) behind the tip it is 3 mm wide.
    back = 3.0 / (2.0 * math.tan(math.radians(18.0)))
    top = next(b for b in star.bridges if b.name == "bridge 1")
    assert top.length_mm == pytest.approx(10.0 + back, abs=1e-3)
    assert len(star.bridges) == 5
    assert len(star.outline.holes) == 5


def test_paper_is_frame_and_star_and_bridges() -> None:
    plain = piece(STAR + "bridge 3 mm wide, out from tip 1 of star")
    star = plain.islands[0]
    # From the tip up to the frame 10 mm; at the tip the strip leaves out the star's own paper,
    # a triangle 3 mm wide.
    back = 3.0 / (2.0 * math.tan(math.radians(18.0)))
    strip = 3.0 * (10.0 + back) - 3.0 * back / 2.0
    wanted = 80.0**2 - 60.0**2 + area(star.region) + strip
    assert area(plain.outline) == pytest.approx(wanted, abs=0.01)
    assert len(plain.outline.holes) == 1


def test_a_ring_keeps_its_inside() -> None:
    lines = (
        "outline circle, 60 mm across\n"
        "window ring, 40 mm across, 6 mm wide, at middle, called ring\n"
        "bridge 3 mm wide, out from top and bottom of ring inside"
    )
    dial = piece(lines)
    assert [i.name for i in dial.islands] == ["ring inside"]
    assert len(dial.outline.holes) == 2
    whole = math.pi * (30.0**2 - 20.0**2 + 14.0**2)

    # Two strips of 3 mm between circles of 14 and 20: exact by the circular segments.
    def chord(r: float) -> float:
        return 3.0 * math.sqrt(r * r - 2.25) / 2.0 + r * r * math.asin(1.5 / r)

    strips = 2.0 * (chord(20.0) - chord(14.0))
    assert area(dial.outline) == pytest.approx(whole + strips, abs=0.01)


def test_islands_in_each_window_are_numbered() -> None:
    lines = (
        "panels across, 60 mm high, mountain by 90 degrees: 3 of side\n"
        "window circle, 40 mm across, at middle of each side, called pane\n"
        "island polygon, 6 sides, 20 mm across, at middle of each pane, called leaf\n"
        "bridge 2 mm wide, out from each tip of each leaf"
    )
    made = piece(lines, sizes="side = 50 mm")
    assert [i.name for i in made.islands] == ["leaf 1", "leaf 2", "leaf 3"]
    assert [i.opening for i in made.islands] == ["pane 1", "pane 2", "pane 3"]
    assert [i.panel for i in made.islands] == ["side 1", "side 2", "side 3"]
    assert len(made.outline.holes) == 18
    assert len(made.facets) == 3


@pytest.mark.parametrize(
    ("lines", "code", "said"),
    [
        (STAR, "island-falls-out", "island"),
        (CARD + "island circle, 70 mm across, at middle of pane", "island-not-in-window", ""),
        (
            STAR
            + "island circle, 8 mm across, at middle of star, called dot\n"
            + "bridge 3 mm wide, out from each tip of star",
            "island-not-in-window",
            "",
        ),
        (STAR + "bridge 60 mm wide, out from tip 1 of star", "bridge-too-wide", "60 mm"),
        (STAR + "bridge 3 mm wide, out from tip 9 of star", "wrong-place", "tip 9"),
        (STAR + "bridge 3 mm wide, out from middle of star", "wrong-place", ""),
        (STAR + "bridge 3 mm wide", "missing-phrase", "bridge"),
        (STAR + "bridge 0 mm wide, out from each tip of star", "not-positive", "0 mm"),
    ],
)
def test_mistakes_are_told_at_their_word(lines: str, code: str, said: str) -> None:
    found = faults_of(lines)
    assert [f.code for f in found] == [code]
    text = f"{FRONT}```piece trial, in card\n{lines}\n```\n"
    assert word(text, found[0]).startswith(said)
