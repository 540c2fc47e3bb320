"""What is seen against rays: random strips folded flat, boxes under lids and stacks of sheets.

From sampled places of the picture a ray goes into the scene; each facet it meets is found in the
facet's own flat coordinates with an even-odd count of its edges. Of facets in one plane the
story's layer order decides, read as it is defined and not as the views read it. Only the scene
is shared with ``space_view.visible``: the papers lie on each other here, which no depth tells.
"""

from __future__ import annotations

import math
import random

import numpy as np
import numpy.typing as npt
import shapely
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from publisher.assembly import FacetId, State, assemble
from publisher.drawing.space_view.camera import Camera, View
from publisher.drawing.space_view.faces import set_scene
from publisher.drawing.space_view.shapes import piece_shape
from publisher.drawing.space_view.stage import set_end
from publisher.geometry.space import lift
from publisher.model.types import Pattern, Piece
from tests.assembly.build import do, folds, part, pattern, sheet, strip, tray

Grid = npt.NDArray[np.float64]
SCALE = 0.5
SAMPLES = 80
EDGE_MM = 0.1  # beside an edge either side may be taken
SAME_MM = 1e-3

few = settings(max_examples=int(settings().max_examples * 0.3), deadline=None)
SIDES = st.floats(18.0, 70.0)
VIEWS = st.builds(View, st.floats(-180.0, 180.0), st.floats(20.0, 70.0))


def directions(view: View) -> tuple[Grid, Grid, Grid]:
    """Right, down and towards the viewer, in the world."""
    a, e = math.radians(view.azimuth_deg), math.radians(view.elevation_deg)
    right = np.array((math.cos(a), math.sin(a), 0.0))
    toward = np.array((math.sin(a) * math.cos(e), -math.cos(a) * math.cos(e), math.sin(e)))
    return right, np.cross(right, toward), toward


def crossings(ring: Grid, x: float, y: float) -> int:
    count = 0
    for (ax, ay), (bx, by) in zip(ring, np.roll(ring, -1, axis=0), strict=True):
        if (ay > y) != (by > y) and x < ax + (bx - ax) * (y - ay) / (by - ay):
            count += 1
    return count


def met(
    state: State, pieces: dict[str, Piece], start: Grid, toward: Grid
) -> list[tuple[float, FacetId, float]]:
    """Every facet that a ray meets: how near the viewer, which, and how its front face looks
    towards the viewer (below 0: away)."""
    found = []
    for body in state.bodies:
        piece = pieces[body.piece]
        for name, pose in body.facets:
            turn, shift = np.array(pose.rotation), np.array(pose.shift)
            normal = turn[:, 2]
            facing = float(normal @ toward)
            if abs(facing) < 1e-2:
                continue
            far = float(normal @ (shift - start)) / facing
            local = (start + far * toward - shift) @ turn
            ring = np.array([s.start for s in piece.facet(name).region.outer.segments])
            if crossings(ring, float(local[0]), float(-local[1])) % 2:
                found.append((far, (body.id, name), facing))
    return found


def nearest(hits: list[tuple[float, FacetId, float]], state: State) -> FacetId | None:
    """The facet that a viewer sees; None where no order tells of two in one plane."""
    most = max(far for far, _, _ in hits)
    level = [(name, facing) for far, name, facing in hits if far > most - SAME_MM]
    sides = {}
    for lower, upper, side in state.above:
        sides[lower, upper] = side
    tops = []
    for name, facing in level:
        covered = False
        for other, other_facing in level:
            if other == name:
                continue
            if (name, other) in sides:  # other lies on the side that name's front looks to
                covered |= sides[name, other] * facing > 0
            elif (other, name) in sides:
                covered |= sides[other, name] * other_facing < 0
            else:
                return None
        if not covered:
            tops.append(name)
    assert len(tops) == 1, "the layer order runs in a circle"
    return tops[0]


def disagreements(made: Pattern, state: State, view: View, seed: int) -> tuple[int, list[str]]:
    """How many rays were cast, and where the picture shows another facet than they meet."""
    pieces = {p.name: p for p in made.pieces}
    shown = [b.id for b in state.bodies if b.placed]
    stage = set_end(made, state, {}, shown)
    shapes = {n: piece_shape(pieces[n]) for n in sorted({a.piece.name for a in stage.actors})}
    scene = set_scene(stage, shapes, Camera(view, SCALE))
    right, down, toward = directions(view)
    edges = shapely.union_all([shapely.boundary(item.area) for item in scene.items])
    x0, y0, x1, y1 = edges.bounds
    dice = random.Random(seed)
    cast, wrong = 0, []
    for _ in range(SAMPLES):
        x, y = dice.uniform(x0, x1), dice.uniform(y0, y1)
        spot = shapely.Point(x, y)
        if edges.distance(spot) < EDGE_MM:
            continue
        ours = [
            item.actor.id
            for item, area in zip(scene.items, scene.seen, strict=True)
            if area.contains(spot)
        ]
        hits = met(state, pieces, (right * x + down * y) / SCALE, toward)
        if not hits:
            expected: list[FacetId] = []
        else:
            top = nearest(hits, state)
            if top is None:
                continue
            expected = [top]
        cast += 1
        if ours != expected:
            wrong.append(f"at {x:.2f}, {y:.2f}: drawn {ours}, met {expected}")
    return cast, wrong


@few
@given(
    st.lists(st.floats(15.0, 45.0), min_size=2, max_size=6),
    st.text("mv", min_size=5, max_size=5),
    st.permutations(range(1, 6)),
    VIEWS,
    st.integers(0, 99),
)
def test_strips_folded_flat(
    widths: list[float], bends: str, order: list[int], view: View, seed: int
) -> None:
    piece = strip("strip", widths, 30.0, bends)
    names = [chr(ord("a") + i) for i in order if i < len(widths)]
    steps = [do("fold", *folds("strip", name)) for name in names]
    made = pattern([piece], *steps)
    story, findings = assemble(made)
    assume(not findings)  # paper would have to pass through paper
    cast, wrong = disagreements(made, story.end, view, seed)
    assert wrong == []
    assert cast > 8


@few
@given(SIDES, SIDES, st.floats(10.0, 40.0), st.floats(1.0, 4.0), VIEWS, st.integers(0, 99))
def test_boxes_with_lids(
    width: float, height: float, depth: float, ease: float, view: View, seed: int
) -> None:
    lid = tray("lid", width + 0.8 + ease, height + 0.8 + ease, depth / 2.0)
    steps = [do("turn", part("tray"), to="over"), do("fold", part("tray"))]
    steps += [do("turn", part("lid"), to="over"), do("fold", part("lid"))]
    steps.append(do("slide", part("lid"), to="over", objects=(part("tray"),)))
    made = pattern([tray("tray", width, height, depth), lid], *steps)
    story, findings = assemble(made)
    assert findings == []
    for state in (story.frames[-1].before, story.end):
        cast, wrong = disagreements(made, state, view, seed)
        assert wrong == []
        assert cast > 8


@few
@given(st.lists(st.tuples(SIDES, SIDES), min_size=2, max_size=6), VIEWS, st.integers(0, 99))
def test_stacks_of_sheets(sizes: list[tuple[float, float]], view: View, seed: int) -> None:
    sheets = [sheet(f"sheet {i}", *size) for i, size in enumerate(sizes)]
    steps = [
        do("glue", part(f"sheet {i}"), to="to", objects=(part(f"sheet {i - 1}"),))
        for i in range(1, len(sheets))
    ]
    made = pattern(sheets, *steps)
    story, findings = assemble(made)
    assert findings == []
    cast, wrong = disagreements(made, story.end, view, seed)
    assert wrong == []
    assert cast > 8


def test_a_layer_order_turned_round_is_noticed() -> None:
    """The measure can fail."""
    made = pattern([strip("strip", [30.0, 30.0], 30.0)], do("fold", *folds("strip", "b")))
    story, _ = assemble(made)
    view = View(-30.0, 48.0)
    assert disagreements(made, story.end, view, 1)[1] == []
    turned = replace(story.end, above=tuple((a, b, -side) for a, b, side in story.end.above))
    pieces = {p.name: p for p in made.pieces}
    middle = story.end.bodies[0].facet_pose("a").apply(lift((15.0, 15.0)))
    hits = met(story.end, pieces, np.array(middle), directions(view)[2])
    assert len(hits) == 2
    assert nearest(hits, turned) != nearest(hits, story.end)
