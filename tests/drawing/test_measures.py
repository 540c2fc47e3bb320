"""Which lengths a flat drawing tells, against the pieces' own figures."""

from __future__ import annotations

import math

import pytest
from msgspec.structs import replace

from publisher.drawing.flat.features import least_width
from publisher.drawing.flat.lengths import Across, Measure, Pointed, extent
from publisher.drawing.flat.measures import in_turn, measures_of
from publisher.geometry.path import Region, polygon
from publisher.geometry.transform import rotated, rotated_point
from publisher.model.types import Piece
from tests.drawing.makeshift import Maker, pattern_of
from tests.handmade import (
    drawer,
    envelope,
    envelope_pattern,
    shaped_panel,
    sleeve,
    sleeve_mat,
    sliding_box_pattern,
)

BOX = sliding_box_pattern()


def told(measures: tuple[Measure, ...]) -> list[tuple[str, str, float]]:
    """(what, axis or word, mm) of every length."""
    found: list[tuple[str, str, float]] = []
    for m in measures:
        if isinstance(m, Across):
            found.append((m.what, m.axis, round(m.mm, 3)))
        else:
            found += [(m.what, word, round(mm, 3)) for mm, word in m.lengths]
    return sorted(found)


def test_the_drawer() -> None:
    assert told(measures_of(BOX, drawer())) == [
        ("edge", "y", 18.0),
        ("overall", "x", 168.0),
        ("overall", "y", 128.0),
        ("panel", "x", 22.0),
        ("panel", "x", 124.0),
        ("panel", "y", 22.0),
        ("panel", "y", 84.0),
        ("tab", "x", 12.0),
    ]


def test_the_sleeve() -> None:
    assert told(measures_of(BOX, sleeve())) == [
        ("notch", "wide", 24.0),
        ("overall", "x", 124.8),
        ("overall", "y", 230.4),
        ("panel", "y", 23.4),
        ("panel", "y", 85.8),
        ("place", "y", 30.9),  # (85.8 - 24) / 2: the notches are in the middle
        ("tab", "y", 12.0),
    ]


def test_the_mat_tells_its_border_and_its_arc() -> None:
    assert told(measures_of(BOX, sleeve_mat())) == [
        ("border", "y", 4.0),
        ("overall", "x", 116.8),
        ("overall", "y", 77.8),
        ("radius", "radius", 16.0),
    ]


def test_the_envelope() -> None:
    assert told(measures_of(envelope_pattern(), envelope())) == [
        ("glue", "x", 10.0),
        ("overall", "x", 190.0),
        ("overall", "y", 233.0),
        ("panel", "x", 18.0),
        ("panel", "x", 154.0),
        ("panel", "y", 55.0),
        ("panel", "y", 67.0),
        ("panel", "y", 111.0),
    ]


def test_equal_measures_share_their_spots() -> None:
    tabs = next(m for m in measures_of(BOX, drawer()) if m.what == "tab")
    assert isinstance(tabs, Across)
    assert len(tabs.spots) == 4
    for spot in tabs.spots:
        low, high = extent(spot, tabs.axis)
        assert high - low == pytest.approx(12.0)


def test_lengths_that_print_alike_are_one_measure() -> None:
    piece = Maker().first("a", 100.0, 30.0).grow("b", "bottom", "a", 30.1).piece()
    heights = [m for m in measures_of(pattern_of([piece]), piece) if m.what == "panel"]
    assert told(tuple(heights)) == [("panel", "y", 30.0)]


def test_a_slanted_tab_is_told_by_a_leader() -> None:
    base = shaped_panel(
        "base", ((0.0, 0.0), (60.0, 0.0), (60.0, 40.0)), ("top", "right", "long"), drawer().span
    )
    length = math.hypot(60.0, 40.0)
    out = (-40.0 / length * 9.0, 60.0 / length * 9.0)
    corners = ((60.0, 40.0), (60.0 + out[0], 40.0 + out[1]), out, (0.0, 0.0))
    tab = shaped_panel("tab 1", corners, ("a", "b", "c", "d"), drawer().span, "tab")
    fold = replace(
        drawer().folds[0],
        name="tab 1",
        start=(60.0, 40.0),
        end=(0.0, 0.0),
        parent="base",
        child="tab 1",
    )
    piece = replace(drawer(), panels=(base, tab), folds=(fold,), glue_zones=())
    (found,) = (m for m in measures_of(pattern_of([piece]), piece) if m.what == "tab")
    assert isinstance(found, Pointed)
    assert found.lengths == ((pytest.approx(9.0), "deep"),)


def test_a_flap_that_narrows_tells_its_outer_edge() -> None:
    maker = Maker().first("centre", 154.0, 111.0).grow("flap", "top", "centre", 55.0, taper=12.0)
    piece = maker.piece()
    assert told(measures_of(pattern_of([piece]), piece)) == [
        ("edge", "x", 130.0),
        ("overall", "x", 154.0),
        ("overall", "y", 166.0),
        ("panel", "y", 55.0),
        ("panel", "y", 111.0),
    ]


def test_a_slanted_glue_strip_tells_its_true_width() -> None:
    piece = Maker().first("flap", 60.0, 50.0).strip("left", "flap", 10.0, "back").piece()
    slanted = polygon(((0.0, 0.0), (10.0, 0.0), (16.0, 50.0), (6.0, 50.0)))
    zone = replace(piece.glue_zones[0], region=Region(slanted))
    piece = replace(piece, glue_zones=(zone,))
    (found,) = (m for m in measures_of(pattern_of([piece]), piece) if m.what == "glue")
    assert isinstance(found, Pointed)
    ((width, word),) = found.lengths
    assert word == "wide"
    # Across the strip, not along x: 10 times the cosine of its slant.
    assert width == pytest.approx(10.0 * 50.0 / math.hypot(6.0, 50.0))


@pytest.mark.parametrize("turn", [0.0, 17.0, 90.0])
def test_least_width_is_that_of_the_narrow_way(turn: float) -> None:
    ring = rotated(polygon(((0, 0), (30, 0), (30, 7), (0, 7))), turn)
    width, direction = least_width(Region(ring))
    assert width == pytest.approx(7.0)
    expected = rotated_point((0.0, 1.0), turn)
    assert abs(direction[0] * expected[0] + direction[1] * expected[1]) == pytest.approx(1.0)


def test_a_square_window_is_measured_across_and_a_round_one_pointed_at() -> None:
    piece = Maker().first("pane", 60.0, 110.0).window("pane", 36.0, 80.0).piece()
    found = told(measures_of(pattern_of([piece]), piece))
    assert ("window", "x", 36.0) in found
    assert ("window", "y", 80.0) in found
    tag = Maker().first("tag", 60.0, 40.0).hole("tag", 6.0, (30.0, 8.0)).piece()
    assert ("window", "across", 6.0) in told(measures_of(pattern_of([tag]), tag))


def test_a_glue_zone_that_covers_its_tab_is_not_told_twice() -> None:
    assert not [m for m in measures_of(BOX, drawer()) if m.what == "glue"]


def test_an_arc_of_a_notch_is_not_told_as_a_radius() -> None:
    assert not [m for m in measures_of(BOX, sleeve()) if m.what == "radius"]


def test_a_notch_points_from_its_floor_into_the_paper() -> None:
    piece = sleeve()
    (notch,) = (m for m in measures_of(BOX, piece) if m.what == "notch")
    assert isinstance(notch, Pointed)
    assert len(notch.anchors) == 4
    for anchor in notch.anchors:
        from_left = anchor.at[0] < 60.0
        assert anchor.at[0] == pytest.approx(12.0 if from_left else 124.8 - 12.0)
        assert anchor.towards == pytest.approx((1.0 if from_left else -1.0, 0.0))
    middles = sorted({round(a.at[1], 3) for a in notch.anchors})
    assert middles == pytest.approx([42.9, 85.8 + 23.4 + 42.9])


def test_short_panels_choose_after_their_long_neighbours() -> None:
    piece: Piece = (
        Maker()
        .first("cover", 140.0, 60.0)
        .grow("spine", "bottom", "cover", 3.0)
        .grow("back", "bottom", "spine", 95.0)
        .piece()
    )
    order = [
        m.mm
        for m in in_turn(measures_of(pattern_of([piece]), piece))
        if isinstance(m, Across) and m.what == "panel"
    ]
    assert order == [95.0, 60.0, 3.0]


def test_a_mat_of_a_missing_panel_has_no_border() -> None:
    lone = pattern_of([sleeve_mat()])
    assert not [m for m in measures_of(lone, sleeve_mat()) if m.what == "border"]


def test_a_plain_rectangle() -> None:
    ring = polygon(((0, 0), (79, 0), (79, 35), (0, 35)))
    piece = replace(sleeve_mat(), outline=Region(ring), derived=None, panels=())
    assert told(measures_of(BOX, piece)) == [("overall", "x", 79.0), ("overall", "y", 35.0)]
