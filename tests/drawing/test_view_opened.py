"""Glue between papers that lie on each other: the picture opens them."""

from __future__ import annotations

import numpy as np
import pytest
import shapely

from publisher.assembly import assemble
from publisher.drawing.space_view import draw_story
from publisher.drawing.space_view.camera import Camera
from publisher.drawing.space_view.opened import opened_state, openings
from publisher.drawing.space_view.telling import tell
from publisher.drawing.space_view.viewpoint import interest
from publisher.geometry.space import add, dot, lift, norm, sub
from publisher.model.types import Pattern
from tests.compiled import told_by
from tests.drawing.test_view_content import NAMES, told
from tests.drawing.view_scenes import area, box, fills, letter, named
from tests.handmade import sliding_box_pattern


def glue_frame(pattern: Pattern, step: int):
    story, _ = assemble(pattern)
    return [f for f in story.frames if f.step == step and f.action.verb == "glue"][-1]


def test_the_walls_that_tabs_meet_are_opened_outwards() -> None:
    pattern = sliding_box_pattern()
    frame = glue_frame(pattern, 2)
    pieces = {p.name: p for p in pattern.pieces}
    found = openings(frame, pieces)
    assert {o.fold for o in found} == {"left wall", "right wall"}
    opened, closing = opened_state(frame.before, found, pieces)
    body = opened.body("drawer-1")
    assert dict(body.angles)["left wall"] < 45.0
    assert dict(body.angles)["front wall"] == 90.0
    for facet in ("left wall", "right wall"):
        # the wall's middle went outwards and down, its fold stayed
        x0, y0, x1, y1 = pieces["drawer"].panel(facet).bounds
        middle = lift(((x0 + x1) / 2, (y0 + y1) / 2))
        before = frame.before.body("drawer-1").facet_pose(facet).apply(middle)
        after = body.facet_pose(facet).apply(middle)
        assert abs(after[0]) > abs(before[0]) + 5.0
        assert after[2] < before[2] - 5.0
    (motion,) = closing
    assert set(motion.moving) == {"left wall", "right wall"}
    assert all(end == 90.0 for _, _, end in motion.folds)


def test_opening_never_drives_paper_through_paper() -> None:
    """What opens moves away from the glued facet, by the side on which the layer order has it."""
    pattern = sliding_box_pattern()
    pieces = {p.name: p for p in pattern.pieces}
    for step in (2, 3):
        frame = glue_frame(pattern, step)
        found = openings(frame, pieces)
        assert found
        opened, _ = opened_state(frame.before, found, pieces)
        sides = {(a, b): s for a, b, s in frame.before.above}
        for (lower, upper), side in sides.items():
            old = frame.before.body(lower[0]).facet_pose(lower[1])
            new_lower = opened.body(lower[0]).facet_pose(lower[1])
            new_upper = opened.body(upper[0]).facet_pose(upper[1])
            if norm(sub(new_lower.shift, old.shift)) < 1e-9 and new_lower == old:
                continue
            piece = pieces[upper[0].removesuffix("-1").replace("-", " ")]
            x0, y0, x1, y1 = piece.panel(upper[1]).bounds
            far = new_upper.apply(lift(((x0 + x1) / 2, (y0 + y1) / 2)))
            height = dot(sub(far, new_lower.shift), new_lower.normal) * side
            assert height > 0.0


def test_what_is_glued_to_an_opened_part_goes_with_it() -> None:
    pattern = sliding_box_pattern()
    frame = glue_frame(pattern, 3)
    pieces = {p.name: p for p in pattern.pieces}
    opened, _ = opened_state(frame.before, openings(frame, pieces), pieces)
    mat, panel = opened.body("sleeve-mat-1"), opened.body("sleeve-1").facet_pose("panel 1")
    corner = mat.facet_pose("sleeve mat").apply((0.0, 0.0, 0.0))
    home = panel.apply(add((4.0, -4.0, 0.0), (0.0, 0.0, 0.4)))
    assert corner == pytest.approx(home, abs=1e-9)
    assert panel.normal[2] < 0.9  # it did open


def test_pairs_that_came_apart_are_no_longer_layered() -> None:
    pattern = sliding_box_pattern()
    frame = glue_frame(pattern, 2)
    pieces = {p.name: p for p in pattern.pieces}
    opened, _ = opened_state(frame.before, openings(frame, pieces), pieces)
    assert frame.before.above
    assert not opened.above


def test_glue_that_lies_open_opens_nothing() -> None:
    pattern, story, _ = letter()
    frame = next(f for f in story.frames if f.action.verb == "glue")
    assert openings(frame, {p.name: p for p in pattern.pieces}) == []


def test_every_glue_zone_is_drawn_seen_or_seen_through() -> None:
    _, _, drawings = box()
    for name, zones in (
        ("step-02", ("tab-1", "tab-2", "tab-3", "tab-4")),
        ("step-03e", ("overlap",)),
    ):
        drawing = named(drawings, name)
        for zone in zones:
            own = [f for f in fills(drawing, "glue", "glue-through") if f.id.endswith(f"-{zone}")]
            assert sum(area(f).area for f in own) > 1.0, (name, zone)


def test_seen_glue_lies_on_the_face_it_belongs_to() -> None:
    """Solid hatch lies on a front face for glue on the front; through the paper, on the back."""
    _, _, drawings = box()
    drawing = named(drawings, "step-02")
    front = shapely.union_all([area(f) for f in fills(drawing, "front", "front-moving")])
    for fill in fills(drawing, "glue"):
        assert front.buffer(0.02).contains(area(fill))
    assert fills(drawing, "glue-through")


def test_glue_and_glue_through_are_hatched_the_other_way_round() -> None:
    _, _, drawings = box()
    drawing = named(drawings, "step-02")
    solid = {f.hatch_deg for f in fills(drawing, "glue")}
    through = {f.hatch_deg for f in fills(drawing, "glue-through")}
    assert solid
    assert through
    assert not solid & through


TUBE = """
```piece tube, in card
form   prism, sides = {sides}, side = 30 mm, height = 60 mm, tab = {tab} mm
```

```step
score  tube
turn   over tube
fold   each side and last side and seam of tube
glue   seam of tube
```
"""


@pytest.mark.parametrize(("sides", "bent"), [(4, False), (5, True), (6, True), (8, True)])
def test_a_flap_whose_glue_looks_down_is_bent_out(sides: int, bent: bool) -> None:
    """The glue is seen from where the pictures before it look, and its flap has no arrow, which
    would lie on it."""
    pattern, story = told_by(TUBE.format(sides=sides, tab=10))
    telling = tell(pattern, story)
    frame, stage, view = (row[-1] for row in (telling.frames, telling.stages, telling.views))
    assert frame.action.verb == "glue"
    (closing,) = stage.closing
    assert ("seam" in closing.moving) == bent
    assert set(telling.views) == {view}
    toward = Camera(view, 1.0).toward
    seam = next(a for a in stage.actors if a.facet == "seam")
    assert dot(seam.pose.normal, toward) > 0.3
    arrows = fills(draw_story(pattern, story)[-1], "arrow-fold")
    assert len([a for a in arrows if not a.id.startswith("close-up")]) == 1


def test_a_flap_that_would_go_through_its_partner_stays() -> None:
    for tab, bent in ((20, True), (24, False)):
        pattern, story = told_by(TUBE.format(sides=6, tab=tab))
        frame = story.frames[-1]
        found = openings(frame, {p.name: p for p in pattern.pieces})
        assert [o.fold for o in found if o.bent_out] == ["seam"] * bent


@pytest.mark.parametrize("name", NAMES)
def test_glue_that_is_seen_is_no_line(name: str) -> None:
    """Of all strips that a picture is about one at least is seen well from the front."""
    pattern, story, _ = told(name)
    telling = tell(pattern, story)
    for frame, stage, view in zip(telling.frames, telling.stages, telling.views, strict=True):
        facing = interest(frame, stage, telling.shapes).facing
        glue = facing[np.abs(facing).sum(axis=1) > 0]
        if len(glue):
            assert np.abs(glue @ np.array(Camera(view, 1.0).toward)).max() > 0.3, frame.action
