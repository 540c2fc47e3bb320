"""What must stay free of glue: marked and told where the rules say so, and nowhere else."""

from __future__ import annotations

import pytest
import shapely
from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from publisher.drawing.space_view import draw_story
from publisher.drawing.space_view.crosses import FreeArea, cross_items
from publisher.drawing.types import Drawing, Fill, Stroke
from publisher.geometry.flatten import flattened
from tests.compiled import told_by
from tests.drawing.clean import area_of, line_of
from tests.drawing.test_view_content import NAMES, told

ROLES = ("no-glue", "no-glue-through")


def picture(name: str, step: str) -> Drawing:
    return next(d for d in told(name)[2] if d.name == step)


def crosses(drawing: Drawing) -> list[Polygon]:
    return [
        Polygon(flattened(ring, 0.05))
        for item in drawing.items
        if isinstance(item, Fill) and item.role in ROLES
        for ring in item.rings
    ]


MARKED = [
    ("token-holder", "step-02c", "the tongue of the carrier"),
    ("plan-wallet", "step-02b", "the far edge of the pocket of the body"),
    ("plan-wallet", "step-05b", "the rest of the label mat"),
    ("envelope", "step-02a", "the far edge of the lower flap of the envelope"),
    ("pop-up-card", "step-05c", "the parts of the page that move when it opens"),
]


@pytest.mark.parametrize(("name", "step", "what"), MARKED)
def test_a_place_that_must_stay_free_has_crosses_and_a_sentence(
    name: str, step: str, what: str
) -> None:
    drawing = picture(name, step)
    assert f"Keep {what} free of glue" in drawing.alt
    far = name != "envelope" and step != "step-02b"
    key = "no-glue-through" if far else "no-glue"
    assert key in drawing.signs
    assert {i.role for i in drawing.items if isinstance(i, Fill) and i.role in ROLES} == {key}
    assert len(crosses(drawing)) >= 3
    glue = [
        Polygon(flattened(i.rings[0], 0.05))
        for i in drawing.items
        if isinstance(i, Fill) and i.role in ("glue", "glue-through")
    ]
    middles = [shapely.centroid(c) for c in crosses(drawing)]
    for zone in glue:  # not where glue is asked for
        solid = shapely.buffer(zone, -0.3)
        assert not [p for p in middles if solid.contains(p) and len(zone.interiors) == 0]


SLITS = """
```piece base, in card
panel    face, 120 x 120 mm
```

```piece cover, in card
outline  rectangle, 100 x 100 mm
glue     along left and right of cover, 10 mm wide, on back face
slit     30 mm long, across, at 30 mm below middle of top, called finger slit
slit     half round, 16 mm wide, facing top, 2 times, 40 mm apart, along 70 mm below top,
         called catch
```

```step
cut      each slit of cover
glue     cover to face of base
```
"""


def test_what_a_tongue_and_what_a_straight_slit_does_is_said_once() -> None:
    glued = draw_story(*told_by(SLITS))[-1]
    straight = "Keep the paper along the finger slit of the cover free of glue: it must open."
    assert straight in glued.alt
    assert "Keep catches 1 and 2 of the cover free of glue: they must lift." in glued.alt
    assert glued.alt.count("must") == 2


@pytest.mark.parametrize("name", ["lidded-box", "sliding-box", "lantern", "pillow-box"])
def test_tabs_that_take_glue_all_over_need_no_mark(name: str) -> None:
    assert [
        d.name for d in told(name)[2] if set(ROLES) & set(d.signs) or "free of glue" in d.alt
    ] == []


def groups(fill: Fill) -> list[BaseGeometry]:
    """The crosses of a fill, each whole: dashes of one cross are nearer to each other than any
    two crosses."""
    parts = shapely.MultiPolygon([Polygon(flattened(ring, 0.05)) for ring in fill.rings])
    joined = shapely.get_parts(shapely.union_all(shapely.buffer(shapely.get_parts(parts), 0.29)))
    return [shapely.intersection(parts, one) for one in joined]


@pytest.mark.parametrize("name", NAMES)
def test_no_cross_touches_an_outline_a_hatch_or_another_cross(name: str) -> None:
    for drawing in told(name)[2]:
        fills = [i for i in drawing.items if isinstance(i, Fill)]
        marks = [i for i in fills if i.role in ROLES]
        if not marks:
            continue
        lines = [
            line_of(path)
            for i in drawing.items
            if isinstance(i, Stroke) and i.role != "fold-made"
            for path in i.paths
        ]
        over = ("glue", "glue-through", "glue-wet", "arrow-move", "arrow-fold", "sign", "halo")
        solid = [area_of(i) for i in fills if i.role in over]
        for mark in marks:
            whole = area_of(mark)
            assert min(shapely.distance(whole, lines)) > 0.3, drawing.name
            assert min(shapely.distance(whole, solid)) > 0.15, drawing.name
            for cross in groups(mark):
                x0, y0, x1, y1 = cross.bounds
                assert x1 - x0 == pytest.approx(y1 - y0, abs=0.01), drawing.name
                assert 1.2 <= x1 - x0 <= 2.2, drawing.name


def test_crosses_of_the_far_side_are_broken_and_those_of_the_near_side_whole() -> None:
    strip = shapely.box(0.0, 0.0, 16.0, 2.4)
    (near,) = cross_items([FreeArea(strip)], (0.0, 0.0))
    (far,) = cross_items([FreeArea(strip, through=True)], (0.0, 0.0))
    assert (near.role, far.role) == ("no-glue", "no-glue-through")
    assert len(groups(near)) == len(groups(far)) >= 3
    assert len(near.rings) == len(groups(near))
    assert len(far.rings) == 4 * len(groups(far))  # open in the middle
    assert area_of(far).area < 0.7 * area_of(near).area


def test_crosses_keep_off_what_is_drawn_and_grow_smaller_for_it() -> None:
    strip, ink = shapely.box(0.0, 0.0, 20.0, 2.0), shapely.box(8.0, -1.0, 12.0, 3.0)
    (mark,) = cross_items([FreeArea(strip)], (0.0, 0.0), ink)
    area = area_of(mark)
    assert len(mark.rings) >= 4
    assert not area.intersects(ink)
    assert strip.buffer(0.15).contains(area)
    (small,) = cross_items([FreeArea(shapely.box(0.0, 0.0, 20.0, 1.3))], (0.0, 0.0))
    assert max(c.bounds[3] - c.bounds[1] for c in groups(small)) < 1.5
    assert cross_items([FreeArea(shapely.box(0.0, 0.0, 20.0, 0.9))], (0.0, 0.0)) == []
