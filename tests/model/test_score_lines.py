"""Scores and slits: from point to point, double, short of an edge, with gaps, as tongues."""

from __future__ import annotations

import math

import pytest

from publisher.geometry.path import Arc
from tests.compiled import codes, compile_text
from tests.model.making import faults_of, piece, word
from tests.model.sources import FRONT

PAGE = """panels down, 148 mm wide, valley: upper = 105 mm, lower = 105 mm
score between upper and lower, called gutter
"""
STEP = (
    PAGE
    + """slit along 25 mm left of middle of gutter, down,
     from 50 mm above gutter to 30 mm below gutter, called left slit
slit along 25 mm right of middle of gutter, down,
     from 50 mm above gutter to 30 mm below gutter, called right slit
score along 50 mm above gutter, from left slit to right slit, valley, called head
score along 20 mm above gutter, from left slit to right slit, mountain, called nose
score along 30 mm below gutter, from left slit to right slit, valley, called foot
"""
)
CARD = "outline rectangle, 60 x 40 mm\n"


def test_a_pop_up_step_hangs_together_by_its_scores() -> None:
    page = piece(STEP + "unscored along gutter, from left slit to right slit")
    lengths = {s.name: s.path.length_mm for s in page.scores}
    assert lengths == pytest.approx(
        {"lower": 49.0, "lower part 2": 49.0, "head": 50.0, "nose": 50.0, "foot": 50.0}
    )
    assert [o.width_mm for o in page.openings] == pytest.approx([80.0, 80.0])
    assert len(page.facets) == 4
    turns = sorted(h.fold for h in page.hinges)
    assert turns == ["foot", "head", "lower", "lower", "nose"]


def test_without_the_gap_the_fold_goes_through_the_step() -> None:
    page = piece(STEP)
    assert [s.path.length_mm for s in page.scores if s.fold == "lower"] == [148.0]
    assert len(page.facets) == 5


def test_a_straight_score_from_point_to_point_is_a_fold() -> None:
    card = piece(CARD + "score from top left to bottom right, valley by 90 degrees, called slant")
    (fold,) = card.folds
    assert (fold.name, fold.closing_deg) == ("slant", 90.0)
    assert card.scores[0].path.length_mm == pytest.approx(math.hypot(60.0, 40.0))
    assert len(card.facets) == 2


def test_a_curved_score_by_its_rise_or_through_a_point() -> None:
    by = piece(CARD + "score from top left to top right by -10 mm, valley")
    through = piece(CARD + "score from top left to top right through (30 mm, 10 mm), valley")
    for card in (by, through):
        (score,) = card.scores
        assert score.fold is None
        (arc,) = score.path.segments
        assert isinstance(arc, Arc)
        # Chord 60, rise 10: r = (900 + 100) / 20 = 50.
        assert arc.radius_mm == pytest.approx(50.0)
        assert [f.name for f in card.facets] == ["trial"]


def test_a_curve_that_leaves_the_paper_is_clipped() -> None:
    card = piece(
        CARD + "score from top left to top right through (30 mm, 50 mm), valley, called a1"
    )
    assert [s.name for s in card.scores] == ["a1 1", "a1 2"]


def test_a_double_score_shares_its_angle() -> None:
    card = piece(
        CARD + "score along 20 mm right of left, double, 3 mm apart, mountain, called spine"
    )
    assert [(f.name, f.closing_deg) for f in card.folds] == [("spine 1", 90.0), ("spine 2", 90.0)]
    assert sorted(f.start[0] for f in card.folds) == pytest.approx([18.5, 21.5])
    assert [f.region.outer.length_mm for f in card.facets] == pytest.approx(
        [2 * (40 + 18.5), 2 * (40 + 3), 2 * (40 + 38.5)]
    )


def test_a_score_stops_short_of_raw_edges_and_still_folds() -> None:
    card = piece(CARD + "score along 20 mm right of left, 2 mm short, mountain")
    assert [s.path.length_mm for s in card.scores] == pytest.approx([36.0])
    assert [s.short_mm for s in card.scores] == [2.0]
    assert len(card.facets) == 2
    chain = piece(
        "panels across, 40 mm high, mountain: left leaf = 30 mm, right leaf = 30 mm\n"
        "score between left leaf and right leaf, 1.5 mm short"
    )
    assert [s.path.length_mm for s in chain.scores] == pytest.approx([37.0])


@pytest.mark.parametrize(
    ("way", "least"),
    [
        ("top", (20.0, 10.0)),
        ("bottom", (20.0, 20.0)),
        ("left", (20.0, 10.0)),
        ("right", (30.0, 10.0)),
    ],
)
def test_a_tongue_faces_its_side(way: str, least: tuple[float, float]) -> None:
    card = piece(CARD + f"slit half round, 20 mm wide, facing {way}, at middle")
    (slit,) = card.openings
    (arc,) = slit.path.segments
    assert isinstance(arc, Arc)
    assert arc.centre == pytest.approx((30.0, 20.0))
    middle = math.radians(arc.start_deg + arc.sweep_deg / 2.0)
    out = {"top": (0, -1), "bottom": (0, 1), "left": (-1, 0), "right": (1, 0)}[way]
    assert (math.cos(middle), math.sin(middle)) == pytest.approx(out, abs=1e-9)
    assert slit.path.length_mm == pytest.approx(10.0 * math.pi)
    assert len(card.facets) == 1
    assert least[0] <= 30.0


def test_a_tongue_faces_a_point_and_knows_its_panel() -> None:
    page = piece(
        PAGE
        + "slit square, 30 mm wide, 8 mm deep, facing middle of upper, "
        + "at 60 mm below middle of gutter"
    )
    (slit,) = page.openings
    assert (slit.panel, slit.width_mm, slit.depth_mm) == ("lower", 30.0, 8.0)
    assert slit.path.length_mm == pytest.approx(46.0)


def test_a_slit_from_point_to_point_by_a_rise() -> None:
    card = piece(CARD + "slit from (10 mm, 20 mm) to (50 mm, 20 mm) by 10 mm")
    (slit,) = card.openings
    # Chord 40, rise 10: r = (400 + 100) / 20 = 25, arc 2 r asin(20 / 25).
    assert slit.width_mm == pytest.approx(50.0 * math.asin(0.8))
    assert slit.shape == "path"


@pytest.mark.parametrize(
    ("lines", "code", "said"),
    [
        (CARD + "score along 20 mm below top, double, valley", "missing-phrase", "score"),
        (
            CARD + "score from top left to top right by -5 mm, double, 3 mm apart, valley",
            "wrong-place",
            "double",
        ),
        (CARD + "score from top left to top right", "missing-phrase", "score"),
        (CARD + "score along middle, valley", "missing-phrase", "score"),
        (CARD + "slit half round, 20 mm wide, at middle", "missing-phrase", "slit"),
        (CARD + "slit half round, facing top, at middle", "missing-phrase", "slit"),
        (CARD + "slit half round, 20 mm wide, facing middle, at middle", "wrong-place", "middle"),
        (
            CARD + "slit half round, 90 mm wide, facing top, at middle",
            "slit-leaves-paper",
            "middle",
        ),
        (CARD + "unscored along top, from left to right", "no-fold-there", "top"),
        (PAGE + "unscored along gutter", "missing-phrase", "unscored"),
        (PAGE + "unscored along middle, from left to right", "wrong-place", "middle"),
    ],
)
def test_mistakes_are_told_at_their_word(lines: str, code: str, said: str) -> None:
    found = faults_of(lines)
    assert [f.code for f in found] == [code]
    text = f"{FRONT}```piece trial, in card\n{lines}\n```\n"
    assert word(text, found[0]).startswith(said)


@pytest.mark.parametrize(
    "line",
    [
        "score along 20 mm below top, from 30 mm in from left to 30 mm in from left, valley",
        "score from (20 mm, 20 mm) to (20 mm, 20 mm), valley",
        "slit from (20 mm, 20 mm) to (20 mm, 20 mm)",
    ],
)
def test_a_line_that_goes_nowhere_is_told(line: str) -> None:
    body = f"```piece card, in card\noutline rectangle, 90 x 60 mm\n{line}\n```\n"
    assert [c for c in codes(compile_text(body)) if c != "piece-not-used"] == ["too-small"]


def test_a_side_before_there_is_any_paper_is_told() -> None:
    body = "```piece card, in card\npanel flap, on top, 20 mm deep, valley\n```\n"
    assert "wrong-place" in codes(compile_text(body))
