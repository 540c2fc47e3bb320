"""Where cuts lie, for who has a ruler: against figures worked out by hand."""

from __future__ import annotations

from msgspec.structs import replace

from publisher.drawing.flat.places import foremost_points, places_of
from publisher.drawing.piece_drawing import draw_piece
from publisher.geometry.path import Line, Path, circle, polygon
from publisher.model.types import Fold, Opening, Piece, Score
from publisher.pipeline import check_pattern
from tests.compiled import workshop
from tests.drawing.makeshift import SPAN, Maker, pattern_of
from tests.handmade import at

OTHER = at("content/makeshift/pattern.md", 2)


def told(piece: Piece) -> list[tuple[str, str, float]]:
    return [(p.name, p.whence, round(p.mm, 3)) for p in places_of(piece)]


def test_a_window_is_measured_from_the_nearer_edges_of_its_panel() -> None:
    """A hole 20 mm across, its middle 70 mm from the left of 100 and 25 mm from the top of 80."""
    piece = Maker().first("a", 40.0, 80.0).grow("b", "right", "a", 100.0).hole("b", 20.0, (70, 25))
    assert told(piece.piece()) == [("window 1", "right", 20.0), ("window 1", "top", 15.0)]


def test_of_two_ways_alike_left_and_top_are_told() -> None:
    piece = Maker().first("a", 100.0, 60.0).window("a", 40.0, 20.0).piece()
    assert told(piece) == [("window 1", "left", 30.0), ("window 1", "top", 20.0)]


def test_what_is_open_to_an_edge_is_measured_along_it() -> None:
    piece = Maker().first("a", 100.0, 60.0).notch("bottom", "a", 24.0).piece()
    assert told(piece) == [("notch 1", "left", 38.0)]


def test_a_row_is_told_by_its_first_and_the_gaps() -> None:
    maker = Maker().first("a", 100.0, 60.0)
    for x in (20.0, 40.0, 75.0):
        maker.hole("a", 10.0, (x, 22.0))
    assert told(maker.piece()) == [
        ("window 1", "left", 15.0),
        ("window 2", "window 1", 10.0),
        ("window 3", "window 2", 25.0),
        ("window 1", "top", 17.0),
    ]


def test_things_of_different_lines_are_no_row() -> None:
    maker = Maker().first("a", 100.0, 60.0).hole("a", 10.0, (20.0, 22.0))
    ring = circle((40.0, 22.0), 5.0)
    maker.openings.append(Opening("other", "window", "circle", ring, "a", 10.0, 10.0, OTHER))
    assert ("other", "left", 35.0) in told(maker.piece())


def test_on_a_slanted_side_it_is_measured_where_it_lies_nearest() -> None:
    """The left side of the flap runs in by 20 mm over 40: at 20 mm from the fold it is 10 in."""
    maker = Maker().first("a", 100.0, 30.0).grow("b", "bottom", "a", 40.0, taper=20.0)
    ring = polygon(((30.0, 45.0), (40.0, 45.0), (40.0, 55.0), (30.0, 55.0)))
    maker.openings.append(Opening("pane", "window", "rectangle", ring, "b", 10.0, 10.0, SPAN))
    assert told(maker.piece()) == [("pane", "left", 20.0), ("pane", "top", 15.0)]


def test_glue_off_the_edges_has_a_place_and_glue_along_them_none() -> None:
    piece = Maker().first("a", 100.0, 60.0).strip("left", "a", 5.0, "back").piece()
    assert told(piece) == []
    (zone,) = piece.glue_zones
    ring = polygon(((35.0, 0.0), (65.0, 0.0), (65.0, 60.0), (35.0, 60.0)))
    free = replace(zone, region=replace(zone.region, outer=ring))
    assert told(replace(piece, glue_zones=(free,))) == [("strip 1", "left", 35.0)]


def test_a_score_within_a_panel_has_a_place_but_from_slit_to_slit() -> None:
    piece = Maker().first("a", 100.0, 60.0).piece()
    fold = Fold("nose", (30.0, 20.0), (70.0, 20.0), "mountain", 180.0, "a", "a", SPAN)
    line = Path((Line((30.0, 20.0), (70.0, 20.0)),), closed=False)
    score = Score("nose", line, "mountain", "nose", SPAN)
    scored = replace(piece, folds=(fold,), scores=(score,))
    assert told(scored) == [("nose", "top", 20.0)]
    slit = Path((Line((30.0, 20.0), (30.0, 45.0)),), closed=False)
    cut = Opening("slit 1", "slit", "line", slit, "a", 25.0, 0.0, SPAN)
    assert [name for name, *_ in told(replace(scored, openings=(cut,)))] == ["slit 1", "slit 1"]


def test_a_leader_ends_where_the_shape_is() -> None:
    """Of a shape that narrows to a tip a corner of the box round it is bare paper."""
    tip = polygon(((10.0, 0.0), (20.0, 30.0), (0.0, 20.0)))
    assert {out: at for at, out in foremost_points(tip)} == {
        (1, 0.0): (20.0, 30.0),
        (-1, 0.0): (0.0, 20.0),
        (0.0, 1): (20.0, 30.0),
        (0.0, -1): (10.0, 0.0),
    }


def test_the_drawing_shows_places_and_its_words_tell_them() -> None:
    piece = Maker().first("a", 100.0, 60.0).hole("a", 10.0, (20.0, 22.0)).piece()
    drawing = draw_piece(pattern_of([piece]), piece)
    assert len([i for i in drawing.items if i.id.startswith("place-") and "line" in i.id]) == 2
    wanted = "Window 1 lies 15 mm (9/16 in) from the left and 17 mm (11/16 in) from the top edge"
    assert wanted in drawing.alt


def test_letters_and_artwork_have_one_place() -> None:
    pattern = check_pattern(workshop(), "table-sign").pattern
    assert pattern is not None
    found = told(pattern.piece("sign"))
    assert [(name, side) for name, side, _ in found] == [
        ("upper letter", "left"),
        ("upper letter", "top"),
        ("lower letter", "left"),
        ("lower letter", "bottom"),
    ]
