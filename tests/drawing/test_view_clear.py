"""Clear walls: what a picture is about lies inside a body, and the walls before it are glass."""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest
import shapely
from msgspec import Struct

from publisher.assembly import FacetId, Frame, Mark, Story
from publisher.drawing.space_view import draw_story
from publisher.drawing.space_view.camera import Camera, View
from publisher.drawing.space_view.clear import clear_facets
from publisher.drawing.space_view.faces import set_scene
from publisher.drawing.space_view.farther import drawn_farther
from publisher.drawing.space_view.glued import glue_areas
from publisher.drawing.space_view.stage import Actor, Stage
from publisher.drawing.space_view.telling import shapes_of, tell
from publisher.drawing.types import Drawing
from publisher.geometry.measure import path_bounds
from publisher.geometry.space import lift
from publisher.model.types import Pattern
from tests.compiled import told_by
from tests.drawing.test_view_content import NAMES, told
from tests.drawing.view_scenes import fills, strokes

HEXAGON = """
```piece tube, in card
form prism, sides = 6, side = 40 mm, height = {height} mm, tab = 12 mm
```

```piece floor, in card
form prism base, sides = 6, side = 40 mm
```

```step
score tube
turn  over tube
fold  each side and last side and seam of tube
glue  seam of tube
turn  over tube by 90 degrees
fold  each foot of tube
glue  each foot of tube, on back face
slide floor into tube
```
"""

SQUARE = """
```piece tube, in card
form prism, sides = 4, side = 50 mm, height = {height} mm, tab = 12 mm
```

```step
score tube
turn  over tube
fold  each side and last side and seam of tube
glue  seam of tube
turn  over tube by 90 degrees
fold  each foot of tube
glue  each foot of tube, on back face
```
"""

TRAY = """
```piece tray, in card
form tray, inside = 90 mm x 60 mm x 24 mm
```

```step
score tray
turn  over tray
fold  front wall and back wall of tray
fold  left wall and right wall of tray
```
"""


class Shown(Struct, frozen=True):
    """A picture and what it is drawn of."""

    frame: Frame
    stage: Stage
    view: View
    clear: frozenset[FacetId]
    drawing: Drawing


def shown(pattern: Pattern, story: Story, drawings: tuple[Drawing, ...]) -> list[Shown]:
    telling = tell(pattern, story)
    shapes, found = telling.shapes, []
    for frame, stage, view, drawing in zip(
        telling.frames, telling.stages, telling.views, drawings, strict=True
    ):
        clear = clear_facets(frame, stage, shapes, view)
        apart = drawn_farther(frame, stage, shapes, view, drawing.scale)
        found.append(Shown(frame, apart, view, clear, drawing))
    return found


@cache
def pictures(text: str, height: int = 50) -> list[Shown]:
    pattern, story = told_by(text.replace("{height}", str(height)))
    pattern = story.handled or pattern
    return shown(pattern, story, draw_story(pattern, story))


def centre(actor: Actor) -> tuple[float, float]:
    x0, y0, x1, y1 = path_bounds(actor.piece.facet(actor.facet).region.outer)
    return (x0 + x1) / 2.0, (y0 + y1) / 2.0


def front_walls(stage: Stage, body: str, view: View, least: float) -> set[str]:
    """The upright facets of a tube whose outer side looks towards the viewer, ``least`` the
    cosine."""
    walls = [a for a in stage.of(body) if abs(a.pose.normal[2]) < 0.1 and not a.moving]
    middles = np.array([a.pose.apply(lift(centre(a))) for a in walls])
    out = middles - middles.mean(axis=0)
    normals = np.array([a.pose.normal for a in walls])
    normals *= np.sign((normals * out).sum(axis=1))[:, None]
    looks = normals @ np.array(Camera(view, 1.0).toward)
    return {a.facet for a, n in zip(walls, looks, strict=True) if n > least}


@pytest.mark.parametrize("height", [30, 48, 50, 52, 70])
@pytest.mark.parametrize(("text", "verbs"), [(HEXAGON, "fold glue slide"), (SQUARE, "fold glue")])
def test_work_inside_a_tube_makes_its_front_walls_clear(text: str, verbs: str, height: int) -> None:
    """Feet that fold in, glue on them, and a floor that is let down."""
    inside = [one for one in pictures(text, height) if one.clear]
    assert [one.frame.action.verb for one in inside] == verbs.split()
    for one in inside:
        clear = {name for _, name in one.clear}
        # one that is seen edge-on may be either
        assert front_walls(one.stage, "tube-1", one.view, 0.1) <= clear
        assert clear <= front_walls(one.stage, "tube-1", one.view, 0.0)


def test_nothing_is_clear_where_nothing_is_hidden() -> None:
    assert not any(one.clear for one in pictures(TRAY))
    assert not any("clear" in one.drawing.signs for one in pictures(TRAY))
    assert not any(one.clear for one in pictures(HEXAGON)[:4])


def test_clear_paper_has_thin_edges_and_no_fill() -> None:
    one = pictures(SQUARE)[-1]
    assert "clear" in one.drawing.signs
    assert "drawn clear" in one.drawing.alt
    assert strokes(one.drawing, "clear")
    filled = {fill.id for fill in fills(one.drawing, "front", "back")}
    assert filled
    assert not filled & {f"face-{body}-{facet}".replace(" ", "-") for body, facet in one.clear}
    solid = pictures(SQUARE)[0].drawing
    assert "clear" not in solid.signs
    assert "drawn clear" not in solid.alt
    assert not strokes(solid, "clear")


def test_the_feet_behind_clear_walls_are_drawn_at_full_strength() -> None:
    one = pictures(SQUARE)[-1]
    glue = fills(one.drawing, "glue")
    assert len(glue) == 4
    assert not fills(one.drawing, "glue-through")


def test_paper_that_lies_on_what_it_hides_is_seen_through() -> None:
    """A flap that is glued down flat keeps its dashes: nothing stands before it."""
    card = (
        "```piece card, in card\npanel back, 80 x 60 mm\n"
        "panel flap, on top of back, 50 mm deep, valley by 180 degrees\n"
        "glue along left and right of flap, 6 mm wide, on back face, meets back\n```\n"
    )
    steps = "```step\nscore card\nglue flap of card\nfold flap of card\n```\n"
    assert not any(one.clear for one in pictures(card + steps))


@pytest.mark.parametrize("name", NAMES)
def test_glue_is_seen_or_told_to_be_seen_through(name: str) -> None:
    """Of every zone of an action six tenths are seen, or the rest is drawn as seen through."""
    pattern, story, drawings = told(name)
    frames = shown(pattern, story, drawings)
    shapes = shapes_of(pattern, [one.stage for one in frames])
    for one in frames:
        scene = set_scene(one.stage, shapes, Camera(one.view, 1.0), one.clear)
        areas = glue_areas(one.frame.motions, shapes, scene.items, scene.seen)
        for zone in {(g.body, g.zone) for g in areas}:
            own = [g for g in areas if (g.body, g.zone) == zone]
            seen = sum(g.area.area for g in own if not g.through)
            if seen < 0.6 * sum(g.area.area for g in own):
                through = {"glue-through", "tape-through", "pads"} & set(one.drawing.signs)
                assert through, (name, one.drawing.name, zone)


@pytest.mark.parametrize("name", NAMES)
def test_walls_before_work_are_glass_in_content(name: str) -> None:
    """What is glued shows its zones through no paper but its own and what lies on it."""
    pattern, story, drawings = told(name)
    for one in shown(pattern, story, drawings):
        shapes = shapes_of(pattern, [one.stage])
        marks = [m for m in one.frame.motions if isinstance(m, Mark) and m.what == "glue"]
        scene = set_scene(one.stage, shapes, Camera(one.view, 1.0), one.clear)
        for glue in glue_areas(one.frame.motions, shapes, scene.items, scene.seen) if marks else ():
            if not glue.through:
                continue
            own = next(i for i in scene.items if i.actor.id == (glue.body, glue.facet))
            before = [
                i.actor.id
                for i in scene.items
                if not (i.clear or i.ghost or i.actor.moving or i is own)
                and i.plane is not None
                and stands_before(i.actor, own.actor, one.view)
                and shapely.intersection(i.area, glue.area).area > 0.6 * glue.area.area
            ]
            assert not before, (one.drawing.name, glue.facet, before)


def stands_before(wall: Actor, part: Actor, view: View) -> bool:
    """Whether a facet that is not level with another lies nearer to the viewer."""
    toward = np.array(Camera(view, 1.0).toward)
    wall_at, part_at = (np.array(a.pose.apply(lift(centre(a)))) for a in (wall, part))
    level = abs(np.dot(wall.pose.normal, part.pose.normal)) > 0.9
    return bool(not level and (wall_at - part_at) @ toward > 1.0)


def test_a_sleeve_stays_paper_round_what_slides_in_and_out() -> None:
    """What goes in from the side has its opening and its arrow to tell it."""
    slid = [one for one in shown(*told("sliding-box")) if one.frame.step == 5]
    assert slid
    assert not any(one.clear for one in slid)


@pytest.mark.parametrize("name", NAMES)
def test_what_is_level_with_clear_paper_is_clear_too(name: str) -> None:
    """A flap not yet folded goes with its wall, but for what moves or takes a mark."""
    for one in shown(*told(name)):
        marked = {m.body for m in one.frame.motions if isinstance(m, Mark)}
        still = {a.id for a in one.stage.actors if not a.moving and a.body not in marked}
        for body, facet in one.clear:
            for hinge in one.stage.actor(body, facet).piece.hinges:
                ends = {hinge.parent, hinge.child}
                if facet in ends and abs(one.stage.angles[body].get(hinge.fold, 0.0)) < 0.5:
                    (other,) = ends - {facet}
                    assert (body, other) in one.clear or (body, other) not in still


def test_rims_of_a_tube_go_with_its_clear_walls() -> None:
    one = next(one for one in shown(*told("lantern")) if one.drawing.name == "step-04b")
    assert {facet[:4] for _, facet in one.clear} >= {"side", "rim "}


def test_clear_paper_has_a_wash() -> None:
    """Every clear facet that is seen is felt as paper; none of it has a face."""
    for one in pictures(HEXAGON):
        washes = {f.id for f in fills(one.drawing, "front-clear", "back-clear")}
        washes = {i for i in washes if not i.startswith("close-up")}
        assert washes <= {f"clear-{b}-{f}".replace(" ", "-") for b, f in one.clear}
        assert bool(washes) == bool(one.clear)
