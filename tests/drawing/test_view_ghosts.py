"""Ghosts: one outline for each part, the nearer before the farther, no windows, and of what comes
down into a box its foot; what travels is drawn so far off that its place is seen."""

from __future__ import annotations

import pytest
import shapely
from shapely.geometry.base import BaseGeometry

from publisher.assembly import MoveMotion
from publisher.drawing.space_view.camera import Camera
from publisher.drawing.space_view.exploded import ALONG, let_down
from publisher.drawing.space_view.faces import Scene, set_scene
from publisher.drawing.space_view.ghosts import ghost_lines
from publisher.drawing.space_view.many import united
from publisher.drawing.space_view.scales import APART_ROOM_MM
from publisher.drawing.space_view.shapes import piece_shape
from publisher.model.types import Piece
from tests.drawing.test_view_clear import Shown, pictures, shown
from tests.drawing.test_view_content import NAMES, told

CARTON = """
```piece box, in card
form gable box, inside = 80 x 50 x 40 mm, rise = 20 mm, handle = 32 mm, tab = 10 mm
```

```step
score box
turn  over box
fold  front wall and back wall of box
```
"""

WINDOWED = """
```piece card, in card
outline rectangle, 120 x 90 mm
```

```piece mat, in card
outline rectangle, 100 x 70 mm
window rectangle, 40 x 30 mm, 30 mm in from left, 20 mm in from top, called pane
```

```step
glue mat to card
```
"""


def scene_of(one: Shown) -> Scene:
    shapes = {a.piece.name: piece_shape(a.piece) for a in one.stage.actors}
    return set_scene(one.stage, shapes, Camera(one.view, one.drawing.scale), one.clear)


def ghost_of(one: Shown, scene: Scene) -> BaseGeometry:
    drawn = ghost_lines(scene, one.stage)
    return shapely.union_all([d.geometry for d in drawn if d.role == "ghost"])


def whole(scene: Scene, *facets: str) -> BaseGeometry:
    return united(i.area for i in scene.items if i.ghost and i.actor.facet in facets)


def unpierced(area: BaseGeometry) -> BaseGeometry:
    return united(shapely.Polygon(part.exterior) for part in shapely.get_parts(area))


def test_each_panel_has_a_ghost_of_its_own_and_the_nearer_hides_the_farther() -> None:
    """Two tall walls come up close to each other: on paper the places overlap."""
    one = pictures(CARTON)[-1]
    scene = scene_of(one)
    ghost = ghost_of(one, scene)
    walls = {
        f"{side} wall": unpierced(
            whole(scene, *(f"{side} {part}" for part in ("wall", "roof", "handle")), *rest)
        )
        for side, rest in (
            ("front", ("tab 1", "tab 2", "catch")),
            ("back", ("tab 3", "tab 4")),
        )
    }
    assert shapely.intersection(*walls.values()).area > 20.0

    def depth(name: str) -> float:
        (item,) = [i for i in scene.items if i.ghost and i.actor.facet == name]
        point = shapely.get_coordinates(shapely.centroid(shapely.intersection(*walls.values())))
        return float(item.nearness(point)[0])

    far, near = sorted(walls, key=depth)
    rim = shapely.boundary(walls[near])
    assert shapely.difference(rim, shapely.buffer(ghost, 0.05)).length < 0.2
    inside = shapely.buffer(walls[near], -0.1)
    assert shapely.intersection(ghost, inside).length < 0.2
    shown = shapely.difference(shapely.boundary(walls[far]), shapely.buffer(walls[near], 0.1))
    assert shown.length > 20.0
    assert shapely.difference(shown, shapely.buffer(ghost, 0.05)).length < 0.2


def test_a_ghost_has_no_windows_and_is_of_true_size() -> None:
    one = pictures(WINDOWED)[-1]
    scene = scene_of(one)
    ghost, place = ghost_of(one, scene), whole(scene, "mat")
    (hole,) = place.interiors
    assert shapely.intersection(ghost, shapely.buffer(hole, 0.5)).is_empty
    rim = shapely.buffer(place.exterior, 0.02)
    assert ghost.length > 0.6 * place.exterior.length
    assert shapely.difference(ghost, rim).length < 0.01


def test_of_what_comes_down_into_a_box_the_foot_is_drawn() -> None:
    """Dividers that stand in a tray: where they will stand on its floor, no crumbs of the rest."""
    one = next(one for one in shown(*told("lidded-box")) if one.drawing.name == "step-05a")
    scene = scene_of(one)
    ghost = ghost_of(one, scene)
    feet = []
    for item in scene.items:
        if item.ghost:
            corners = shapely.get_coordinates(shapes_paper(item.actor.piece, item.actor.facet))
            heights = [item.actor.pose.apply((x, -y, 0.0))[2] for x, y in corners]
            low = [c for c, z in zip(corners, heights, strict=True) if z < min(heights) + 0.6]
            feet.append(item.flat_to_paper(shapely.LineString(low)))
    assert ghost.length > 15.0
    assert shapely.difference(ghost, shapely.buffer(united(feet), 0.05)).length < 0.01


def shapes_paper(piece: Piece, facet: str) -> BaseGeometry:
    return piece_shape(piece).facets[facet].paper


def travellers(pictures: list[Shown]) -> list[tuple[Shown, list[str]]]:
    """What is laid, set or let down, by picture."""
    found = []
    for one in pictures:
        bodies = [
            body
            for motion in one.frame.motions
            if isinstance(motion, MoveMotion)
            for body in motion.bodies
            if body in one.stage.away
            and (motion.manner not in ALONG or let_down(one.stage.away[body]))
        ]
        if bodies:
            found.append((one, bodies))
    return found


@pytest.mark.parametrize("name", NAMES)
def test_what_travels_leaves_its_place_to_be_seen(name: str) -> None:
    """It covers little of it, or the picture has no room for it to be drawn farther off."""
    for one, bodies in travellers(shown(*told(name))):
        scene = scene_of(one)
        own = [i for i in scene.items if i.actor.body in bodies]
        place = shapely.convex_hull(united(i.area for i in own if i.ghost))
        part = shapely.convex_hull(united(i.area for i in own if not i.ghost))
        covered = part.intersection(place).area
        drawn = united([*(i.area for i in scene.items if not i.ghost), place])
        x0, y0, x1, y1 = drawn.bounds
        width, height = APART_ROOM_MM
        assert y1 - y0 <= height + 0.01, one.drawing.name
        full = y1 - y0 > height - 1.1 or x1 - x0 > width - 1.1
        assert covered <= 0.07 * place.area or full, (one.drawing.name, covered / place.area)


def test_a_picture_is_higher_rather_than_smaller() -> None:
    """The same scale as when the mat hovers low, and its place is free."""
    one = pictures(WINDOWED)[-1]
    assert one.drawing.scale == pytest.approx(0.4, abs=0.06)
    ((_, bodies),) = travellers([one])
    assert one.stage.away[bodies[0]][2] > 0.7 * 70.0


def test_what_is_glued_together_has_one_ghost() -> None:
    """A page glued into a cover folds with it: no second outline beside the first."""
    one = next(one for one in shown(*told("pop-up-card")) if one.drawing.name == "step-09c")
    scene = scene_of(one)
    assert len({i.actor.body for i in scene.items if i.ghost}) == 2
    place = united(i.area for i in scene.items if i.ghost)
    inside = shapely.intersection(ghost_of(one, scene), shapely.buffer(place, -0.05))
    assert inside.length < 0.5
