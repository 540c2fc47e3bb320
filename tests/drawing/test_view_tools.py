"""Scores and cuts are made with a tool that stands on their line; what is pressed out is paper
until it is, and is seen to go."""

from __future__ import annotations

import math

import pytest
import shapely
from shapely.geometry.base import BaseGeometry

from publisher.assembly import Mark
from publisher.drawing.space_view import draw_story, draw_told
from publisher.drawing.space_view.faces import Scene
from publisher.drawing.space_view.lines import Drawn
from publisher.drawing.space_view.tools import with_tool
from publisher.drawing.types import Drawing
from publisher.geometry.path import Point
from tests.compiled import told_by
from tests.drawing import test_view_content as content
from tests.drawing.view_scenes import area, fills, ink, labels, strokes

CARD = """
```piece card, in card
panels   across, 60 mm high, mountain: inside = 50 mm, front = 50 mm
window   {window}, at middle of front, called moon
```

```step
score    card
{act}
```

```step
fold     front of card
```
"""


def card(act: str, window: str = "circle, 20 mm across") -> tuple[Drawing, ...]:
    return draw_story(*told_by(CARD.format(act=act, window=window)))


def paper(drawing: Drawing) -> BaseGeometry:
    return shapely.union_all([area(f) for f in fills(drawing, "front", "back")])


def tool(drawing: Drawing) -> BaseGeometry:
    parts = [area(f) for f in fills(drawing, "sign") if f.id.startswith("tool-")]
    return shapely.union_all(parts)


@pytest.mark.parametrize("name", content.NAMES)
def test_every_score_and_cut_has_its_tool_and_nothing_else_has(name: str) -> None:
    pattern, story, _ = content.told(name)
    for frame, drawing in draw_told(pattern, story):
        whats = {m.what for m in frame.motions if isinstance(m, Mark)}
        kinds = {f.id for f in fills(drawing, "sign")} & {"tool-score", "tool-knife"}
        wanted = {"score": "tool-score", "cut": "tool-knife"}
        assert kinds == {wanted[what] for what in whats if what in wanted}, drawing.name
        assert ("score" in drawing.signs) == ("score" in whats), drawing.name


@pytest.mark.parametrize("name", content.NAMES)
def test_a_tool_touches_its_line_and_no_words(name: str) -> None:
    for drawing in content.told(name)[2]:
        if tool(drawing).is_empty:
            continue
        made = ink(*strokes(drawing, "valley", "mountain", "cut", "outline-moving"))
        assert shapely.distance(tool(drawing), made) < 0.1, drawing.name
        for label in labels(drawing):
            assert shapely.distance(tool(drawing), shapely.Point(label.at)) > 0.3


def test_the_tip_stays_where_it_was_when_a_size_changes() -> None:
    tips = []
    for wide in ("20", "21", "22"):
        drawing = card("press moon of card", f"circle, {wide} mm across")[0]
        x0, y0, _, _ = tool(drawing).bounds
        tips.append((x0, y0))
    assert max(x for x, _ in tips) - min(x for x, _ in tips) < 1.0
    assert max(y for _, y in tips) - min(y for _, y in tips) < 1.0


@pytest.mark.parametrize("wide", ["20", "30", "40"])
def test_a_tool_covers_no_window_where_there_is_room_beside(wide: str) -> None:
    scored = card("press    moon of card", f"circle, {wide} mm across")[0]
    rings = ink(*strokes(scored, "inner"))
    assert not rings.is_empty
    assert not shapely.intersects(tool(scored), rings)


@pytest.mark.parametrize("name", content.NAMES)
def test_a_tool_covers_no_letters_and_no_notch(name: str) -> None:
    """Of lines within the paper that are not made now, nothing."""
    for drawing in content.told(name)[2]:
        if {f.id for f in fills(drawing, "sign")} & {"tool-score"}:
            own = [s for s in strokes(drawing, "inner") if not s.id.startswith("close-up")]
            assert not shapely.intersects(tool(drawing), ink(*own)), drawing.name


@pytest.mark.parametrize("name", content.NAMES)
def test_a_line_is_thin_ahead_of_the_blade_and_heavy_behind_it(name: str) -> None:
    for drawing in content.told(name)[2]:
        blades = [area(f) for f in fills(drawing, "sign") if f.id == "tool-knife"]
        for blade in blades:
            (handle,) = [area(f) for f in fills(drawing, "sign") if f.id == "tool-handle"]
            thin, heavy = ink(*strokes(drawing, "inner")), ink(*strokes(drawing, "cut"))
            assert shapely.distance(blade, thin) < 0.1
            assert shapely.distance(blade, heavy) < 0.1
            ends = [line for line in shapely.get_parts(heavy) if line.distance(blade) < 0.1]
            (done,) = ends
            assert handle.distance(thin.centroid) < handle.distance(done.centroid)


@pytest.mark.parametrize("ends", [((0.0, 0.0), (30.0, 0.0)), ((30.0, 0.0), (0.0, 0.0))])
def test_a_hand_draws_the_blade_after_it_whichever_way_the_line_runs(
    ends: tuple[Point, Point],
) -> None:
    pattern, story, _ = content.told("pop-up-card")
    cut = next(f for f, _ in draw_told(pattern, story) if f.action.verb == "cut")
    line = Drawn("cut", "paper-1", shapely.LineString(ends))
    found, lines = with_tool(cut, [line], Scene((), ()), {})
    assert found is not None
    done, ahead = (next(d for d in lines if d.role == role).geometry for role in ("cut", "inner"))
    assert done.length + ahead.length == pytest.approx(30.0)
    middle = found.area.centroid  # on the side of the handle from the tip
    assert shapely.distance(middle, ahead.centroid) < shapely.distance(middle, done.centroid)


def test_lines_round_what_is_narrow_are_lighter() -> None:
    """The letters' lines, but not those of their close-up, which are told larger."""
    for name, step, light in (
        ("table-sign", "step-01b", True),
        ("token-holder", "step-01b", False),
    ):
        drawing = content.picture_of(name, step)
        heavy = [s.id for s in strokes(drawing, "outline-moving") if "waste" not in s.id]
        assert bool([i for i in heavy if not i.startswith("close-up")]) != light
        assert bool([i for i in heavy if i.startswith("close-up")]) == light


def test_along_a_fold_that_is_pressed_once_more_a_bone_folder_lies() -> None:
    text = CARD.format(act="press    moon of card", window="circle, 20 mm across")
    pressed = text.replace(
        "fold     front of card", "fold     front of card\ncrease   front of card"
    )
    *_, folded, creased = draw_story(*told_by(pressed))
    assert "crease" in creased.signs
    assert "crease" not in folded.signs
    (x0, y0, x1, y1), paper_box = tool(creased).bounds, paper(creased).bounds
    assert math.hypot(x1 - x0, y1 - y0) > 10.0
    edge = shapely.boundary(paper(creased))
    assert shapely.distance(tool(creased).centroid, edge) < 0.5
    assert paper_box[0] < x0 < x1


# ---------------------------------------------------------------- what is pressed out


def test_a_window_is_paper_until_it_is_pressed_out() -> None:
    scored, pressed, folded = card("press    moon of card")
    assert all(not ring.interiors for ring in shapely.get_parts(paper(scored)))
    thin = [s for s in strokes(scored, "inner") for path in s.paths if path.closed]
    assert len(thin) == 1
    assert [len(p.interiors) for p in shapely.get_parts(paper(pressed))] == [1]
    assert {"push-arrow", "moving"} <= set(pressed.signs)
    assert "cut" not in pressed.signs
    assert "out of the front of the card, from behind" in pressed.alt
    (out,) = [f for f in fills(pressed, "front-moving") if f.id.endswith("waste-out")]
    hole = shapely.Polygon(shapely.get_parts(paper(pressed))[0].interiors[0])
    assert area(out).area == pytest.approx(hole.area, rel=0.02)
    assert area(out).centroid.y < hole.centroid.y - 3.0
    (arrow,) = fills(pressed, "arrow-move")
    assert shapely.intersects(area(arrow), hole)
    assert not [p for s in strokes(folded, "inner") for p in s.paths if p.closed]


def test_a_window_that_no_step_presses_is_open_from_the_start() -> None:
    scored = card("turn     over card")[0]
    assert sum(len(p.interiors) for p in shapely.get_parts(paper(scored))) == 1


def test_of_many_one_is_on_its_way_and_the_rest_are_marked() -> None:
    """Four windows with a star that bridges hold: twenty parts come out, no bridge does."""
    drawing = content.picture_of("lantern", "step-01b")
    moving = [f for f in fills(drawing, "front-moving") if "-waste-" in f.id]
    moving = [f for f in moving if not f.id.startswith("close-up")]
    assert len(moving) == 20
    (out,) = [area(f) for f in moving if f.id.endswith("waste-out")]
    others = shapely.union_all([area(f) for f in moving if not f.id.endswith("waste-out")])
    assert out.intersection(others).area < 0.1 * out.area
    before = content.picture_of("lantern", "step-01a")
    assert len([p for s in strokes(before, "inner") for p in s.paths if p.closed]) == 20


def test_a_small_piece_is_not_hidden_by_its_arrow() -> None:
    drawing = card("press    moon of card", "circle, 5 mm across")[1]
    (out,) = [area(f) for f in fills(drawing, "front-moving") if f.id.endswith("waste-out")]
    (arrow,) = fills(drawing, "arrow-move")
    assert area(arrow).intersection(out).area < 0.3 * out.area


def test_what_is_cut_by_hand_is_not_there_before() -> None:
    scored, cut, _ = card("cut      moon of card")
    assert not [p for s in strokes(scored, "inner") for p in s.paths if p.closed]
    assert sum(len(p.interiors) for p in shapely.get_parts(paper(scored))) == 0
    assert "cut" in cut.signs
