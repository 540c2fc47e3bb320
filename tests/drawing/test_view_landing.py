"""Where what travels will lie is shown: beside it, behind clear walls, or dotted behind paper."""

from __future__ import annotations

import pytest
import shapely

from publisher.assembly import MoveMotion
from publisher.drawing.space_view.camera import Camera
from publisher.drawing.space_view.exploded import moved_bodies
from publisher.drawing.space_view.faces import set_scene
from publisher.drawing.space_view.many import united
from publisher.drawing.space_view.motions import move_arrow
from publisher.drawing.space_view.telling import shapes_of
from publisher.geometry.space import norm
from tests.compiled import told_by
from tests.drawing.test_view_clear import HEXAGON, Shown, pictures, shown
from tests.drawing.test_view_content import NAMES, told
from tests.drawing.view_scenes import ink, strokes

CARD = """
```piece card, in card
outline rectangle, 120 x 90 mm
{window}
```

```piece liner, in card
outline rectangle, 80 x 60 mm
```

```step
glue liner to card
```
"""
WINDOW = "window rectangle, 30 x 20 mm, 40 mm in from left, 35 mm in from top, called pane"


def travellers(pictures: list[Shown]) -> list[tuple[Shown, MoveMotion]]:
    return [
        (one, motion)
        for one in pictures
        for motion in one.frame.motions
        if isinstance(motion, MoveMotion) and motion.manner != "wrap"
    ]


@pytest.mark.parametrize("name", NAMES)
def test_every_traveller_has_a_place_to_go(name: str) -> None:
    """Its outline, or a part of it, is drawn in every picture of what travels."""
    for one, _ in travellers(shown(*told(name))):
        drawn = strokes(one.drawing, "ghost", "hidden")
        assert ink(*drawn).length > 5.0, one.drawing.name
        assert "ghost" in one.drawing.signs, one.drawing.name


@pytest.mark.parametrize("name", NAMES)
def test_arrows_of_travellers_point_at_their_places(name: str) -> None:
    """An arrow of what travels ends within the place where its part will lie."""
    pattern, story, drawings = told(name)
    for one, motion in travellers(shown(pattern, story, drawings)):
        shapes, camera = shapes_of(pattern, [one.stage]), Camera(one.view, one.drawing.scale)
        scene = set_scene(one.stage, shapes, camera, one.clear)
        arrow = move_arrow(motion, one.stage, camera, scene.items, scene.seen)
        assert arrow is not None
        bodies = motion.bodies
        place = united(i.area for i in scene.items if i.ghost and i.actor.body in bodies)
        assert shapely.dwithin(place, shapely.Point(arrow.path[-1]), 0.3), one.drawing.name


def test_a_floor_in_a_tube_has_its_place_drawn_within_the_walls() -> None:
    """It fits between the walls, whose edges would hide an outline on them."""
    one = pictures(HEXAGON)[-1]
    assert "ghost" in one.drawing.signs
    assert ink(*strokes(one.drawing, "ghost")).length > 30.0


def drawn_away(text: str) -> float:
    pattern, story = told_by(text)
    pieces = {p.name: p for p in pattern.pieces}
    return norm(moved_bodies(story.frames[-1], pieces)["liner-1"])


def test_what_covers_a_window_is_drawn_farther_off() -> None:
    plain = drawn_away(CARD.replace("{window}", ""))
    assert plain == pytest.approx(0.42 * 60.0)
    assert drawn_away(CARD.replace("{window}", WINDOW)) == pytest.approx(0.7 * 60.0)
    aside = WINDOW.replace("40 mm in from", "4 mm in from").replace("30 x 20", "8 x 20")
    assert drawn_away(CARD.replace("{window}", aside)) == pytest.approx(plain)
