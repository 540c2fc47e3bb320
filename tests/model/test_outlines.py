"""Outlines of several shapes and cut corners, against figures worked out by hand."""

from __future__ import annotations

import itertools
import math

import pytest

from publisher.geometry.measure import area
from publisher.geometry.path import Arc, Line
from tests.model.making import faults_of, piece, word
from tests.model.sources import FRONT

CARD = "outline rectangle, 60 x 40 mm\n"


def test_all_corners_of_a_card_are_rounded_where_none_is_named() -> None:
    card = piece(CARD + "corners rounded, 6 mm radius")
    assert area(card.outline) == pytest.approx(2400.0 - (4.0 - math.pi) * 36.0)
    assert [c.at for c in card.corners] == [(0, 0), (60, 0), (60, 40), (0, 40)]
    arcs = [s for s in card.outline.outer.segments if isinstance(s, Arc)]
    assert len(arcs) == 4
    assert {round(a.radius_mm, 9) for a in arcs} == {6.0}


def test_each_corner_on_its_own() -> None:
    card = piece(
        CARD
        + "corners rounded, 6 mm radius, at top left and top right\n"
        + "corners bevelled, 5 mm deep, at bottom left\n"
        + "corners scooped, 4 mm radius, at bottom right"
    )
    away = 2.0 * (1.0 - math.pi / 4.0) * 36.0 + 12.5 + math.pi * 4.0
    assert area(card.outline) == pytest.approx(2400.0 - away)
    assert [c.cut for c in card.corners] == ["rounded", "rounded", "bevelled", "scooped"]


def test_a_bevel_at_the_end_of_a_fold_shortens_no_score() -> None:
    wallet = piece(
        "panels down, 140 mm wide, mountain: flap = 60 mm, body = 90 mm\n"
        "corners bevelled, 10 mm deep, at top left of flap and top right of flap"
    )
    assert [s.path.length_mm for s in wallet.scores] == [140.0]
    assert len(wallet.facets) == 2


def test_a_pillow_has_ends_by_their_rise() -> None:
    pillow = piece(
        "panels across, 140 mm high, mountain: front = 80 mm, back = 80 mm\n"
        "tab on right of back, 12 mm deep, mountain, meets left of front\n"
        "join half round, 80 mm wide, 20 mm deep, at middle of top of front "
        "and middle of top of back and middle of bottom of front and middle of bottom of back\n"
        "score from top right of front to top left of front by 20 mm, valley\n"
        "score from top right of back to top left of back by 20 mm, valley\n"
        "score from bottom left of front to bottom right of front by 20 mm, valley\n"
        "score from bottom left of back to bottom right of back by 20 mm, valley"
    )
    x0, y0, x1, y1 = pillow.bounds
    assert (x0, y0, x1, y1) == pytest.approx((0.0, 0.0, 172.0, 180.0))
    # Chord 80, rise 20: r = (40^2 + 20^2) / 40 = 50, arc 2 r asin(40 / 50).
    arc = 2.0 * 50.0 * math.asin(0.8)
    curves = [s for s in pillow.scores if s.fold is None]
    assert [s.path.length_mm for s in curves] == pytest.approx([arc] * 4)
    assert arc == pytest.approx(92.7, abs=0.05)
    lens = 50.0**2 * math.asin(0.8) - 40.0 * 30.0
    assert area(pillow.outline) == pytest.approx(172.0 * 140.0 + 4.0 * lens)
    assert [f.name for f in pillow.facets] == ["front", "back", "tab 1"]
    assert [f.panel for f in pillow.facets] == ["front", "back", "tab 1"]


def test_panels_and_points_move_with_what_is_joined_above() -> None:
    tag = piece(
        CARD
        + "point hole, at 10 mm below middle of top\n"
        + "join half round, 60 mm wide, at middle of top\n"
        + "window circle, 6 mm across, at hole"
    )
    assert tag.bounds == pytest.approx((0.0, 0.0, 60.0, 70.0))
    assert tag.panels[0].bounds == pytest.approx((0.0, 30.0, 60.0, 70.0))
    centre = tag.openings[0].path.segments[0]
    assert isinstance(centre, Arc)
    assert centre.centre == pytest.approx((30.0, 40.0))


def test_trim_keeps_arcs() -> None:
    coin = piece("outline rectangle, 60 x 60 mm\ntrim circle, 50 mm across, at middle")
    assert area(coin.outline) == pytest.approx(math.pi * 625.0)
    assert all(isinstance(s, Arc) for s in coin.outline.outer.segments)
    lens = piece(
        "outline circle, 60 mm across\ntrim circle, 60 mm across, at 30 mm right of middle"
    )
    # Two circles of radius 30, 30 apart: 2 r^2 acos(d / 2r) - d / 2 sqrt(4 r^2 - d^2).
    wanted = 2.0 * 900.0 * math.acos(0.5) - 15.0 * math.sqrt(3600.0 - 900.0)
    assert area(lens.outline) == pytest.approx(wanted)
    assert {s.radius_mm for s in lens.outline.outer.segments if isinstance(s, Arc)} == {30.0}


def test_cut_takes_over_an_edge() -> None:
    card = piece(CARD + "cut circle, 20 mm across, at top right, called bite")
    assert area(card.outline) == pytest.approx(2400.0 - math.pi * 25.0)
    several = piece(
        CARD + "cut circle, 6 mm across, at middle of top, 3 times, 12 mm apart, across"
    )
    assert area(several.outline) == pytest.approx(2400.0 - 3.0 * math.pi * 4.5)


def test_a_path_by_cubic_curves() -> None:
    # The outline of a leaf: two curves that mirror each other.
    leaf = piece(
        "outline path, from (0 mm, 30 mm) to (60 mm, 30 mm) with (20 mm, 0 mm) and (40 mm, 0 mm), "
        "to (0 mm, 30 mm) with (40 mm, 60 mm) and (20 mm, 60 mm)"
    )
    assert area(leaf.outline) == pytest.approx(
        2.0 * _under((0, 0), (20, 30), (40, 30), (60, 0)), abs=0.5
    )
    assert not any(isinstance(s, Line) for s in leaf.outline.outer.segments)


def _under(*p: tuple[float, float]) -> float:
    """The area between a cubic and its chord, summed finely (trapezes)."""

    def at(t: float) -> tuple[float, float]:
        k = ((1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t * t * (1 - t), t**3)
        return sum(a * q[0] for a, q in zip(k, p, strict=True)), sum(
            a * q[1] for a, q in zip(k, p, strict=True)
        )

    points = [at(i / 4000) for i in range(4001)]
    return sum((b[0] - a[0]) * (a[1] + b[1]) / 2 for a, b in itertools.pairwise(points))


@pytest.mark.parametrize(
    ("lines", "code", "said"),
    [
        (CARD + "corners rounded, 46 mm radius", "corner-too-large", "46 mm"),
        (CARD + "corners rounded, 4 mm radius, at middle of top", "no-corner", "middle of top"),
        (CARD + "corners 4 mm radius", "missing-phrase", "corners"),
        (CARD + "corners bevelled, at top left", "missing-phrase", "corners"),
        (CARD + "corners rounded, 0 mm radius", "not-positive", "0 mm"),
        (
            "outline circle, 40 mm across\ncorners rounded, 3 mm radius, at top left",
            "no-corner",
            "top left",
        ),
        (
            "panels down, 60 mm wide, mountain: flap = 20 mm, body = 40 mm\n"
            "corners rounded, 4 mm radius, at bottom left of flap",
            "no-corner",
            "bottom left of flap",
        ),
        (CARD + "join circle, 8 mm across, at 30 mm above top left", "paper-falls-apart", ""),
        (CARD + "join circle, 8 mm across, at middle", "changes-nothing", "middle"),
        (CARD + "join half round, 20 mm wide, at middle", "notch-off-edge", "middle"),
        (CARD + "trim circle, 8 mm across, at 30 mm above top left", "nothing-left", ""),
        (CARD + "trim circle, 90 mm across, at middle", "changes-nothing", "middle"),
        (CARD + "cut rectangle, 4 x 60 mm, at middle", "paper-falls-apart", "middle"),
        (CARD + "cut circle, 90 mm across, at middle", "nothing-left", "middle"),
        (CARD + "cut circle, 8 mm across, at 30 mm above top left", "changes-nothing", ""),
        (
            CARD + "cut path, from (0 mm, 0 mm) to (9 mm, 0 mm) with (3 mm, 3 mm)",
            "wrong-count",
            "with",
        ),
    ],
)
def test_mistakes_are_told_at_their_word(lines: str, code: str, said: str) -> None:
    found = faults_of(lines)
    assert [f.code for f in found] == [code]
    text = f"{FRONT}```piece trial, in card\n{lines}\n```\n"
    assert word(text, found[0]).startswith(said)
