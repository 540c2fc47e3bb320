"""Edges of the step views: which are drawn, as what, and only once."""

from __future__ import annotations

import math
from itertools import combinations

import numpy as np
import pytest
import shapely

from publisher.assembly import FoldMotion, Mark
from publisher.drawing.space_view import Setting, draw_frame
from publisher.drawing.space_view.camera import View
from publisher.drawing.space_view.viewpoint import VIEWS
from publisher.drawing.types import Drawing
from publisher.geometry.path import circle
from tests.drawing.view_scenes import (
    BACK_UP,
    all_drawings,
    area,
    body,
    box,
    centred,
    fills,
    frame_of,
    ink,
    letter,
    line,
    named,
    pattern_of,
    state,
    strokes,
)
from tests.handmade import WALLS, drawer, sleeve

PAPER = ("front", "back", "front-moving", "back-moving")
OUTLINES = ("outline", "outline-moving")
ACTING = ("valley", "mountain", "cut")
EDGES = (*OUTLINES, "inner", "fold-made", *ACTING, "hidden")


def segments(drawing: Drawing, *roles: str) -> list[tuple[str, shapely.LineString]]:
    return [
        (s.role, shapely.LineString([seg.start, seg.end]))
        for s in strokes(drawing, *roles)
        if not s.id.startswith("close-up")
        for path in s.paths
        for seg in path.segments
    ]


# A ghost is drawn over edges and creases, but not along what is acted on.
@pytest.mark.parametrize("roles", [EDGES, (*ACTING, "ghost")], ids=["edges", "ghosts"])
@pytest.mark.parametrize("drawing", all_drawings(), ids=lambda d: d.name)
def test_no_stretch_of_paper_is_inked_twice(drawing: Drawing, roles: tuple[str, ...]) -> None:
    found = segments(drawing, *roles)
    tree = shapely.STRtree([s for _, s in found])
    for i, (_, s) in enumerate(found):
        for j in tree.query(s, predicate="dwithin", distance=0.02):
            if j <= i:
                continue
            other = found[j][1]
            a, b = np.diff(s.coords, axis=0)[0], np.diff(other.coords, axis=0)[0]
            turn = abs(float(a[0] * b[1] - a[1] * b[0])) / (s.length * other.length)
            if turn < 0.01:
                shared = shapely.intersection(s, shapely.buffer(other, 0.02, cap_style="flat"))
                assert shared.length < 0.1, (drawing.name, found[i], found[j])


@pytest.mark.parametrize("drawing", all_drawings(), ids=lambda d: d.name)
def test_the_contour_is_closed_by_strong_lines(drawing: Drawing) -> None:
    paper = shapely.union_all([area(f) for f in fills(drawing, *PAPER)])
    strong = ink(*strokes(drawing, *OUTLINES, "valley", "mountain", "cut"))
    left = shapely.difference(shapely.boundary(paper), shapely.buffer(strong, 0.2))
    halos = [area(f) for f in fills(drawing, "halo") if f.id.startswith("halo-")]
    beside = shapely.buffer(shapely.union_all(halos), 1.3)  # short rests there are left out
    assert shapely.difference(left, beside).length < 0.5
    assert left.length < 0.5 + 1.2 * len(halos)


@pytest.mark.parametrize("drawing", all_drawings(), ids=lambda d: d.name)
def test_no_crack_between_faces_of_one_picture(drawing: Drawing) -> None:
    """Holes in the joined paper are openings or real gaps, never hairlines."""
    paper = shapely.union_all([area(f) for f in fills(drawing, *PAPER)])
    for part in shapely.get_parts(paper):
        for hole in part.interiors:
            gap = shapely.Polygon(hole)
            assert gap.area / gap.length > 0.05, drawing.name


def test_an_upright_box_has_inner_lines_where_two_faces_are_seen() -> None:
    piece = drawer()
    walls = dict.fromkeys(WALLS, 90.0)
    pose = centred(piece, "base", BACK_UP)
    before = state([body(piece, pose, walls)])
    frame = frame_of("turn", piece, before, [Mark("drawer-1", "press", (), "front")])
    view = View(-30.0, 40.0)
    drawing = draw_frame(pattern_of(piece), frame, "try", Setting(view, 0.5))
    # Seen from the front left, the base meets the far and the right wall in inner lines. The
    # near walls, 22 high, hide what lies behind them as far as a shadow that the line of
    # sight would cast: 22 / tan 40 long, half of it along x, the rest along y.
    inner = [
        math.dist(seg.start, seg.end)
        for s in strokes(drawing, "inner")
        for path in s.paths
        for seg in path.segments
    ]
    a, e, k = math.radians(-30.0), math.radians(40.0), 0.5
    shadow = 22.0 / math.tan(e)
    along_x = k * math.hypot(math.cos(a), math.sin(a) * math.sin(e))
    along_y = k * math.hypot(math.sin(a), math.cos(a) * math.sin(e))
    far = (124.0 - shadow * math.sin(math.radians(30.0))) * along_x
    right = (84.0 - shadow * math.cos(math.radians(30.0))) * along_y
    assert min(abs(n - far) for n in inner) < 0.02
    assert min(abs(n - right) for n in inner) < 0.02


def test_creases_already_there_stop_short_of_the_edge() -> None:
    _, _, drawings = letter()
    drawing = named(drawings, "step-01b")
    made = ink(*strokes(drawing, "fold-made"))
    outline = ink(*strokes(drawing, *OUTLINES))
    assert made.length > 50
    assert shapely.distance(made, outline) > 0.5


def test_the_fold_being_made_is_drawn_from_edge_to_edge_with_its_pattern() -> None:
    _, _, drawings = letter()
    drawing = named(drawings, "step-02b")
    fold = ink(*strokes(drawing, "valley"))  # a mountain fold seen on its back
    a, e = math.radians(VIEWS[0].azimuth_deg), math.radians(VIEWS[0].elevation_deg)
    stretch = math.hypot(math.cos(a), math.sin(a) * math.sin(e))
    assert fold.length == pytest.approx(154.0 * drawing.scale * stretch, abs=0.05)


def test_scores_are_marked_by_bend_without_arrows() -> None:
    _, _, drawings = box()
    drawing = named(drawings, "step-01a")
    assert strokes(drawing, "mountain")
    assert not fills(drawing, "arrow-fold", "arrow-move", "arrow-turn")
    assert "mountain" in drawing.signs


def test_hidden_edges_of_what_takes_glue_are_dotted() -> None:
    pattern, story, _ = box()
    frame = next(f for f in story.frames if f.step == 2)
    # from so high above that most of every tab is seen, so that no wall is drawn clear for it
    drawing = draw_frame(pattern, frame, "try", Setting(View(-30.0, 70.0), 0.4))
    assert "clear" not in drawing.signs
    assert strokes(drawing, "hidden")
    outline = ink(*strokes(drawing, *OUTLINES))
    for dotted in strokes(drawing, "hidden"):
        beside = shapely.intersection(ink(dotted), shapely.buffer(outline, 0.01))
        assert beside.length < 0.3


def test_cut_lines_of_openings_are_drawn_on_the_facets() -> None:
    piece = sleeve()
    before = state([body(piece, centred(piece, "panel 1"), {})])
    mark = Mark("sleeve-1", "cut", ("notch 1", "notch 2"), "front")
    frame = frame_of("cut", piece, before, [mark])
    drawing = draw_frame(pattern_of(piece), frame, "try", Setting(View(-24.0, 89.0), 0.5))
    cut = ink(*strokes(drawing, "cut", "inner"))  # thin ahead of the blade
    # From nearly above, a half-round notch 24 across shows pi * 12 of arc; its straight side
    # lies on the open edge, where there is no paper to cut.
    assert cut.length == pytest.approx(2 * math.pi * 12.0 * 0.5, rel=0.01)
    assert drawing.signs.count("cut") == 1


def test_arcs_are_flattened_finely() -> None:
    """A notch seen from above keeps its radius within a hundredth of a millimetre."""
    piece = sleeve()
    before = state([body(piece, centred(piece, "panel 1"), {})])
    frame = frame_of("cut", piece, before, [Mark("sleeve-1", "cut", ("notch 1",), "front")])
    drawing = draw_frame(pattern_of(piece), frame, "try", Setting(View(0.0, 89.99), 1.0))
    points = [
        p
        for s in strokes(drawing, "cut", "inner")
        for q in s.paths
        for p in shapely.get_coordinates(line(q))
    ]
    spans = [math.dist(a, b) for a, b in combinations(points, 2)]
    assert max(spans) == pytest.approx(24.0, abs=0.02)
    assert circle((0.0, 0.0), 12.0).length_mm == pytest.approx(2 * math.pi * 12.0)


def test_folding_edge_on_facets_still_show_their_edges() -> None:
    """A wall seen exactly edge-on has no area, and is a line."""
    piece = drawer()
    walls = {"front wall": 90.0}
    before = state([body(piece, centred(piece, "base", BACK_UP), walls)])
    motion = FoldMotion("drawer-1", (("left wall", 0.0, 90.0),), ("left wall",))
    frame = frame_of("fold", piece, before, [motion])
    drawing = draw_frame(pattern_of(piece), frame, "try", Setting(View(0.0, 89.99999), 0.5))
    faces = {f.id for f in fills(drawing, *PAPER)}
    assert "face-drawer-1-front-wall" not in faces
    assert "face-drawer-1-base" in faces
