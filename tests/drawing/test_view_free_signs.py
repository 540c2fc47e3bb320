"""A picture that looks from another height than the one before says so."""

from __future__ import annotations

import pytest
import shapely

from publisher.drawing.legend import draw_sign
from publisher.drawing.space_view import draw_told
from publisher.drawing.space_view.camera import View
from publisher.drawing.space_view.free_signs import FREE_SIGNS, LOOK_MM, risen_deg
from publisher.drawing.space_view.stage import Stage
from publisher.drawing.space_view.story import settings
from publisher.drawing.types import Fill
from tests.drawing.test_view_content import NAMES
from tests.drawing.test_view_turns import telling
from tests.drawing.view_scenes import area, fills

LOOKS = ("look-higher", "look-lower")


@pytest.mark.parametrize("name", NAMES)
def test_a_picture_tells_where_one_looks_from_another_height(name: str) -> None:
    pattern, story, told = telling(name)
    last: dict[str, float] = {}
    rises = [s.rise_deg for s in settings(told)]
    rows = zip(draw_told(pattern, story), told.stages, told.views, rises, strict=True)
    for (_, drawing), stage, view, rise in rows:
        heights = {last[b] for b in stage.bodies if b in last}
        if len(heights) == 1:  # else of some things it changes in any case
            assert view.elevation_deg - heights.pop() == pytest.approx(rise)
        want = [LOOKS[rise < 0]] if rise else []
        assert [key for key in drawing.signs if key in LOOKS] == want, drawing.name
        assert [f.id for f in fills(drawing, "sign") if f.id in LOOKS] == want, drawing.name
        last |= dict.fromkeys(stage.bodies, view.elevation_deg)


def test_somewhere_in_the_content_the_height_changes() -> None:
    assert any(s.rise_deg for s in settings(telling("sliding-box")[2]))


def test_what_was_not_seen_before_has_no_height_to_change() -> None:
    nothing = Stage((), (), (), (), {})
    assert risen_deg([nothing, nothing], [View(0.0, 48.0), View(0.0, 62.0)]) == [0.0, 0.0]


@pytest.mark.parametrize("key", LOOKS)
def test_the_sign_keeps_to_its_room_and_its_arrow_points_the_way(key: str) -> None:
    (sign,) = FREE_SIGNS[key]((0.0, 0.0))
    assert isinstance(sign, Fill)
    ink = area(sign)
    width, height = LOOK_MM
    assert shapely.box(-width / 2, -height / 2, width / 2, height / 2).covers(ink)
    arrow = max(shapely.get_parts(ink), key=lambda part: part.bounds[2])
    widest = arrow.centroid.y
    assert widest < 0 if key == "look-higher" else widest > 0
    assert draw_sign(key).signs == (key,)
