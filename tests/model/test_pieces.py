"""Statements of a piece, on figures worked out by hand."""

from __future__ import annotations

import math

import pytest

from publisher.geometry.measure import area, path_bounds
from publisher.geometry.path import Arc
from publisher.model.folding import closed_size
from publisher.model.types import MatOf
from tests.model.making import faults_of, made, piece
from tests.model.sources import FRONT


def test_a_rectangle_has_one_panel_and_one_facet() -> None:
    trial = piece("outline rectangle, 60 x 40 mm")
    assert [p.name for p in trial.panels] == ["trial"]
    assert [f.name for f in trial.facets] == ["trial"]
    assert trial.bounds == (0.0, 0.0, 60.0, 40.0)
    assert trial.folds == trial.scores == trial.hinges == ()


def test_a_chain_takes_lengths_from_sizes_of_the_same_name() -> None:
    trial = piece(
        "panels down, 50 mm wide, valley: hem, back, flap = 9 mm", "hem = 5 mm\nback = 3 in"
    )
    assert [p.height_mm for p in trial.panels] == pytest.approx([5.0, 76.2, 9.0])
    assert [f.bend for f in trial.folds] == ["valley", "valley"]
    assert [f.closing_deg for f in trial.folds] == [180.0, 180.0]


def test_counted_panels_and_a_seam() -> None:
    trial = piece(
        "panels across, 110 mm high, mountain by 90 degrees: 4 of side\n"
        "tab on right of side 4, 12 mm deep, 3 mm taper, mountain by 90 degrees,"
        " meets left of side 1, called seam\n"
        "tab on bottom of each side, 12 mm deep, 12 mm taper, mountain by 90 degrees, called foot",
        "side = 60 mm",
    )
    assert [p.name for p in trial.panels] == [
        "side 1",
        "side 2",
        "side 3",
        "side 4",
        "seam",
        "foot 1",
        "foot 2",
        "foot 3",
        "foot 4",
    ]
    assert trial.panel("seam").meets == ("side 1", "left")
    assert [z.name for z in trial.glue_zones] == ["seam"]
    assert trial.bounds == pytest.approx((0.0, 0.0, 252.0, 122.0))


def test_taper_in_degrees() -> None:
    trial = piece(
        "panel base, 60 x 40 mm\ntab on top of base, 12 mm deep, 20 degrees taper, mountain"
    )
    edge = trial.panel("tab 1").edge("top")
    assert math.dist(edge.start, edge.end) == pytest.approx(60 - 24 * math.tan(math.radians(20)))


def test_neighbouring_tabs_share_their_corner() -> None:
    trial = piece(
        "panel base, 60 x 40 mm\n"
        "panel wall, on bottom of base, 30 mm deep, mountain\n"
        "panel side, on left of base, 30 mm deep, mountain\n"
        "tab on left of wall, 12 mm deep, mountain\n"
        "tab on bottom of side, 12 mm deep, mountain"
    )
    # Each is cut at 45 degrees at the corner and square at its other end.
    for name in ("tab 1", "tab 2"):
        ring = trial.panel(name)
        assert sorted(round(math.dist(e.start, e.end), 6) for e in ring.edges) == [
            12.0,
            round(12 * math.sqrt(2), 6),
            18.0,
            30.0,
        ]


def test_a_narrower_panel_sits_in_the_middle_of_its_edge() -> None:
    trial = piece(
        "panel base, 60 x 40 mm\npanel tongue, on bottom of base, 30 mm deep, 20 mm wide, mountain"
    )
    assert trial.fold("tongue").start == (40.0, 40.0)
    assert trial.fold("tongue").end == (20.0, 40.0)
    (hinge,) = trial.hinges
    assert (hinge.start, hinge.end) == ((40.0, 40.0), (20.0, 40.0))


def test_net_area_is_the_sum_of_its_panels() -> None:
    trial = piece(
        "panel base, 60 x 60 mm\n"
        "panel side, on top and right and bottom and left of base, 50 mm deep, 30 mm taper,"
        " mountain"
    )
    assert [p.name for p in trial.panels] == ["base", "side 1", "side 2", "side 3", "side 4"]
    assert area(trial.outline) == pytest.approx(60 * 60 + 4 * 60 * 50 / 2)


def test_notches_of_every_shape() -> None:
    trial = piece(
        "outline rectangle, 100 x 60 mm\n"
        "notch half round, 20 mm wide, at middle of top\n"
        "notch square, 10 mm wide, 8 mm deep, at middle of left\n"
        "notch vee, 12 mm wide, 9 mm deep, at 1/4 of the way along bottom\n"
        "notch half round, 20 mm wide, 4 mm deep, at middle of right, called grip"
    )
    radius = (10**2 + 4**2) / 8
    half_angle = math.asin(10 / radius)
    segment = radius**2 * (2 * half_angle - math.sin(2 * half_angle)) / 2
    assert area(trial.outline) == pytest.approx(6000 - math.pi * 50 - 80 - 54 - segment)
    assert [o.name for o in trial.openings] == ["notch 1", "notch 2", "notch 3", "grip"]
    vee = trial.openings[2]
    assert path_bounds(vee.path) == pytest.approx((19.0, 51.0, 31.0, 60.0))


def test_windows_keep_their_arcs() -> None:
    trial = piece(
        "panel flap, 100 x 60 mm\n"
        "window circle, 20 mm across, at middle of flap\n"
        "window rectangle, 10 x 8 mm, 5 mm in from left of flap, 6 mm in from top of flap"
    )
    assert area(trial.outline) == pytest.approx(6000 - math.pi * 100 - 80)
    assert any(isinstance(s, Arc) for h in trial.outline.holes for s in h.segments)
    assert path_bounds(trial.openings[1].path) == pytest.approx((5.0, 6.0, 15.0, 14.0))


def test_one_distance_leaves_the_other_way_in_the_middle() -> None:
    trial = piece(
        "panel flap, 100 x 60 mm\nwindow circle, 10 mm across, 5 mm in from right of flap"
    )
    assert path_bounds(trial.openings[0].path) == pytest.approx((85.0, 25.0, 95.0, 35.0))


def test_slits_take_no_paper_away() -> None:
    trial = piece(
        "panel flap, 100 x 60 mm\n"
        "slit 40 mm long, across, at middle of flap\n"
        "slit along 10 mm above bottom of flap, from left of flap to middle of bottom of flap"
    )
    assert area(trial.outline) == pytest.approx(6000)
    first, second = trial.openings
    assert (first.path.start, first.path.end) == ((30.0, 30.0), (70.0, 30.0))
    assert second.path.length_mm == pytest.approx(50.0)
    assert [o.kind for o in trial.openings] == ["slit", "slit"]


def test_a_score_across_a_panel_divides_it() -> None:
    trial = piece(
        "outline rectangle, 100 x 60 mm\nscore along 20 mm below top, valley by 90 degrees"
    )
    assert [f.name for f in trial.facets] == ["trial part 1", "trial part 2"]
    assert [(f.name, f.bend, f.closing_deg) for f in trial.folds] == [("score 1", "valley", 90.0)]
    assert len(trial.hinges) == 1


def test_a_fold_can_have_a_name_of_its_own() -> None:
    pattern = made(
        FRONT + "```piece page, in card\n"
        "panels down, 148 mm wide, valley: upper = 105 mm, lower = 105 mm\n"
        "score between upper and lower, called gutter\n"
        "slit 50 mm long, across, at middle of gutter\n```\n\n"
        "```step\nfold gutter of page\n```\n"
    )
    page = pattern.piece("page")
    assert [s.name for s in page.scores] == ["lower"]
    assert page.openings[0].path.start == (49.0, 105.0)
    target = pattern.steps[0].actions[0].subjects[0]
    assert (target.kind, target.part) == ("fold", "lower")


def test_points_and_edges_with_names() -> None:
    trial = piece(
        "notch vee, 8 mm wide, at thumb\n"
        "panel flap, 90 x 60 mm\n"
        "point thumb, at 1/3 of the way along mouth\n"
        "edge mouth, along top of flap\n"
        "glue along mouth, 3 mm wide, on back face"
    )
    assert path_bounds(trial.openings[0].path)[0] == pytest.approx(26.0)
    assert [z.name for z in trial.glue_zones] == ["glue 1", "glue 2"]  # the notch divides it


def test_glue_areas() -> None:
    trial = piece(
        "panel label, 60 x 40 mm\n"
        "panel flap, on top of label, 20 mm deep, mountain\n"
        "glue on flap, on front face\n"
        "glue rectangle, 30 x 20 mm, at middle of label, on back face, called dab"
    )
    flap, dab = trial.glue_zones
    assert (flap.name, flap.panel, flap.face) == ("flap", "flap", "front")
    assert (dab.name, dab.panel, dab.face) == ("dab", "label", "back")
    assert area(dab.region) == pytest.approx(600)


def test_a_glue_line_on_a_tab_replaces_its_own() -> None:
    trial = piece(
        "panels across, 50 mm high, mountain by 90 degrees: 4 of side\n"
        "tab on right of side 4, 12 mm deep, mountain, meets left of side 1, called seam\n"
        "glue on seam, on back face",
        "side = 40 mm",
    )
    assert [(z.name, z.face) for z in trial.glue_zones] == [("seam", "back")]


def test_copies() -> None:
    pattern = made(
        FRONT + "```piece divider, 2 copies, in card\noutline rectangle, 79 x 35 mm\n"
        "notch square, 0.6 mm wide, 17.7 mm deep, at middle of top, called slot\n```\n\n"
        "```step\nslide slot of divider 1 into slot of divider 2, called cross\n```\n\n"
        "```step\nlay cross on divider\n```\n"
    )
    assert pattern.piece("divider").copies == 2
    slide = pattern.steps[0].actions[0]
    assert [(t.kind, t.part, t.copy) for t in (*slide.subjects, *slide.objects)] == [
        ("opening", "slot", 1),
        ("opening", "slot", 2),
    ]
    assert slide.called == "cross"
    assert pattern.steps[1].actions[0].subjects[0].kind == "made"


def test_a_mat_with_plain_edges_does_not_follow() -> None:
    source = (
        FRONT + "```piece body, in card\npanel front, 100 x 60 mm\n"
        "notch half round, 20 mm wide, at middle of top of front\n```\n\n"
        "```piece cover, in patterned paper\nmat on front of body, 5 mm border{}\n```\n"
    )
    plain = made(source.format(", plain")).piece("cover")
    follows = made(source.format("")).piece("cover")
    assert area(plain.outline) == pytest.approx(90 * 50)
    # The notch's circle grows to 15 and is cut by the mat's edge 5 inside.
    cut = 15**2 * math.acos(5 / 15) - 5 * math.sqrt(15**2 - 5**2)
    assert area(follows.outline) == pytest.approx(90 * 50 - cut)


def test_mats_behind_windows_count_their_windows() -> None:
    pattern = made(
        FRONT + "```piece lantern, in card\n"
        "panels across, 110 mm high, mountain by 90 degrees: one = 60 mm, two = 60 mm\n"
        "window rectangle, 36 x 80 mm, at middle of one and middle of two, called pane\n```\n\n"
        "```piece backing, in tracing paper\nmat behind each pane of lantern, 4 mm border\n```\n"
    )
    backing = pattern.piece("backing")
    assert backing.copies == 2
    assert backing.bounds == pytest.approx((0.0, 0.0, 44.0, 88.0))
    assert isinstance(backing.derived, MatOf)
    assert backing.derived.offset == pytest.approx((8.0, 11.0))


def test_a_band_across_a_flat_thing_that_is_full() -> None:
    pattern = made(
        FRONT + "```sizes\nplan = 120 x 80 x 2 mm\n```\n\n"
        "```piece body, in card\n"
        "panels down, 140 mm wide, mountain: pocket = 65 mm, back = 95 mm\n```\n\n"
        "```piece band, in patterned paper\n"
        "band down, around body when closed and full, 30 mm wide, 20 mm overlap, 0.5 mm ease\n```\n"
        "\n```fits\nplan goes into body with at least 1 mm to spare\n```\n"
    )
    assert closed_size(pattern.piece("body")) == pytest.approx((140.0, 95.0, 0.8))
    band = pattern.piece("band")
    assert [p.height_mm for p in band.panels[:4]] == pytest.approx([95.5, 3.3, 95.5, 3.3])


def test_long_chains_are_bounded() -> None:
    found = faults_of("panels across, 9 mm high, valley: 4000 of side", "side = 1 mm")
    assert found
    assert all("200" in f.message or f.code for f in found)
