"""Words in the step views: in the picture, over nothing, with leaders that cross nothing."""

from __future__ import annotations

from itertools import combinations

import pytest
import shapely
from msgspec.structs import replace

from publisher.assembly import FoldMotion
from publisher.drawing.space_view import draw_frame, draw_story
from publisher.drawing.space_view.ground import Ground
from publisher.drawing.space_view.naming import MOST_LABELS
from publisher.drawing.space_view.placing import label_request, place
from publisher.drawing.text import label_corners
from publisher.drawing.types import Drawing, Label
from publisher.model.types import Fold
from tests.compiled import told_by
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
    labels,
    letter,
    named,
    pattern_of,
    state,
    strokes,
)
from tests.handmade import at, box_panel, folded

DRAWN = ("front", "back", "front-moving", "back-moving", "halo", "arrow-turn")


def room(label: Label) -> shapely.Polygon:
    return shapely.Polygon(label_corners(label))


@pytest.mark.parametrize("drawing", all_drawings(), ids=lambda d: d.name)
def test_words_stand_clear_of_everything_drawn(drawing: Drawing) -> None:
    drawn = shapely.union_all([area(f) for f in fills(drawing, *DRAWN)])
    for label in labels(drawing):
        assert shapely.distance(room(label), drawn) > 0.8, label.text
        ghosts = strokes(drawing, "ghost")
        if ghosts:
            assert shapely.distance(room(label), ink(*ghosts)) > 0.8
    for a, b in combinations(labels(drawing), 2):
        assert shapely.distance(room(a), room(b)) > 0.8, (a.text, b.text)


TURNED_UNSEEN = """
```piece bag, in cover 65
form     gift bag, wide = 90 mm, thick = 40 mm, high = 150 mm
```

```piece tag, in patterned paper
outline  star, 5 points, 50 mm across
```

```step
score    bag
turn     over bag
fold     each half of bag
fold     back and seam of bag
glue     seam of bag
fold     each dust flap of bag
fold     front flap of bag
fold     back flap of bag
glue     foot glue of bag to front flap of bag
stamp    tag "an onion"
mount    tag on front of bag with foam pads
```
"""


def test_the_sign_of_a_turn_stands_somewhere_where_what_turns_is_hidden() -> None:
    """The bag lies on its front, and so on the tag that is turned and mounted there."""
    pattern, story = told_by(TURNED_UNSEEN)
    assert fills(draw_story(pattern, story)[-2], "arrow-turn")


@pytest.mark.parametrize("drawing", all_drawings(), ids=lambda d: d.name)
def test_everything_keeps_the_white_round_the_drawing(drawing: Drawing) -> None:
    if drawing.name == "cover":
        return
    frame = shapely.box(6.0, 6.0, drawing.width_mm - 6.0, drawing.height_mm - 6.0).buffer(0.06)
    for fill in fills(drawing, *DRAWN):
        assert frame.contains(area(fill)), fill.id
    for label in labels(drawing):
        assert frame.buffer(0.4).contains(room(label)), label.text


@pytest.mark.parametrize("drawing", all_drawings(), ids=lambda d: d.name)
def test_leaders_cross_neither_words_nor_arrows_nor_each_other(drawing: Drawing) -> None:
    arrows = [area(f) for f in fills(drawing, "arrow-fold", "arrow-move")]
    leaders = [s for s in strokes(drawing, "leader") if s.id.startswith("leader-")]
    for leader in leaders:
        run = ink(leader)
        assert all(shapely.distance(run, a) > 0.2 for a in arrows), leader.id
        for label in labels(drawing):
            gap = shapely.distance(run, room(label))
            own = label.id.removeprefix("label-") == leader.id.removeprefix("leader-")
            assert gap > (0.2 if own else 0.4), (leader.id, label.id)
    for a, b in combinations(leaders, 2):
        assert shapely.distance(ink(a), ink(b)) > 0.5


def test_a_leader_ends_with_a_dot_on_the_part_it_names() -> None:
    _, _, drawings = box()
    drawing = named(drawings, "step-01c")
    by_id = {f.id: f for f in fills(drawing, "front", "back", "front-moving", "back-moving")}
    for panel in ("front wall", "back wall", "left wall", "right wall"):
        key = panel.replace(" ", "-")
        (dot,) = [f for f in fills(drawing, "sign") if f.id == f"dot-{key}"]
        assert area(by_id[f"face-drawer-1-{key}"]).contains(area(dot).centroid)


def test_words_are_few_and_none_twice() -> None:
    for drawing in all_drawings():
        texts = [label.text for label in labels(drawing)]
        assert len(texts) <= MOST_LABELS
        assert len(set(texts)) == len(texts)
        assert all(label.size_pt >= 8.0 for label in labels(drawing))


def test_moving_and_named_parts_are_named() -> None:
    _, _, drawings = box()
    wanted = {
        "step-01c": {"front wall", "back wall", "left wall", "right wall"},
        "step-01d": {"tab 1", "tab 2", "tab 3", "tab 4"},
        "step-02": {"tab 1", "tab 2", "tab 3", "tab 4"},
        "step-03a": {"sleeve mat", "sleeve"},
        "step-03b": {"sleeve", "drawer"},
        "step-04": {"drawer", "sleeve"},
    }
    for name, texts in wanted.items():
        assert {label.text for label in labels(named(drawings, name))} == texts


def sides(drawing: Drawing) -> dict[str, tuple[bool, bool]]:
    """For each label, whether it stands right of and below the middle of the drawing."""
    paper = shapely.union_all([area(f) for f in fills(drawing, *DRAWN[:4])]).envelope.centroid
    return {
        label.text: (room(label).centroid.x > paper.x, room(label).centroid.y > paper.y)
        for label in labels(drawing)
    }


def test_label_sides_stay_when_one_size_changes() -> None:
    """The composition does not jump: 22 mm of depth and 22.5, 23, 21 give the same sides."""
    before = {d.name: sides(d) for d in box()[2]}
    for depth in (21.0, 22.5, 23.0):
        after = {d.name: sides(d) for d in box(depth)[2]}
        same = sum(before[n] == after[n] for n in before)
        assert same >= len(before) - 1, {n: (before[n], after[n]) for n in before}


def test_no_place_means_no_label_rather_than_a_bad_one() -> None:
    part = shapely.box(0.0, 0.0, 30.0, 20.0)
    everything = shapely.box(-20.0, -20.0, 50.0, 40.0)
    request = label_request("a long name for a part", part)
    ground = Ground.of((-20.0, -20.0, 50.0, 40.0), everything, shapely.Point())
    assert place([request], ground) == []


def test_a_label_is_found_beside_a_lone_part() -> None:
    part = shapely.box(0.0, 0.0, 30.0, 20.0)
    ground = Ground.of((-25.0, -10.0, 55.0, 30.0), part, shapely.Point())
    (placed,) = place([label_request("lid", part)], ground)
    assert placed.leader is not None
    assert part.contains(shapely.Point(placed.leader[1]))
    assert shapely.distance(placed.outline, part) >= 1.3


def test_the_envelope_names_its_flaps() -> None:
    _, _, drawings = letter()
    assert {label.text for label in labels(named(drawings, "step-02b"))} == {"bottom flap"}


def test_a_wide_panel_that_moves_along_behind_a_narrow_one_is_named_too() -> None:
    """Folding a spine carries the cover: both names stand in the picture."""
    span = at("content/try/pattern.md", 1)
    tops = (0.0, 60.0, 63.0, 158.0)
    names = ("cover", "spine", "hold")
    panels = tuple(
        box_panel(n, 0.0, tops[i], 140.0, tops[i + 1], span) for i, n in enumerate(names)
    )
    folds = tuple(
        Fold(child, (0.0, y), (140.0, y), "mountain", 180.0, parent, child, span)
        for parent, child, y in (("hold", "spine", 63.0), ("spine", "cover", 60.0))
    )
    whole = box_panel("whole", 0.0, 0.0, 140.0, 158.0, span)
    piece = folded("book", whole, panels, folds)
    before = state([body(piece, centred(piece, "hold", BACK_UP), {})])
    motion = FoldMotion("book-1", (("spine", 0.0, 180.0),), ("spine", "cover"))
    drawing = draw_frame(pattern_of(piece), frame_of("fold", piece, before, [motion]), "try")
    assert {label.text for label in labels(drawing)} == {"spine", "cover"}


def test_a_leader_ends_in_a_strip_rather_than_cross_a_fold_that_is_made() -> None:
    """Round a panel with folds lie strips; only of the panel a leader could end well inside."""
    panel = shapely.box(2.4, 2.4, 40.0, 30.0)
    strips = shapely.difference(shapely.box(0.0, 0.0, 42.4, 32.4), panel.buffer(0.4))
    paper = shapely.MultiPolygon([panel, shapely.Polygon(strips)])
    whole = shapely.box(0.0, 0.0, 42.4, 32.4)
    ground = Ground.of((-25.0, -8.0, 70.0, 45.0), whole, shapely.Point())
    folds = panel.buffer(0.2).exterior
    (free,) = place([label_request("sheet", paper)], ground)
    (shy,) = place([label_request("sheet", paper)], replace(ground, shy=folds))
    assert free.leader is not None
    assert shy.leader is not None
    assert shapely.LineString(free.leader).intersects(folds)
    assert not shapely.LineString(shy.leader).intersects(folds)


def test_a_leader_rather_goes_farther_than_over_what_it_does_not_name() -> None:
    part, other = shapely.box(20.0, 0.0, 24.0, 3.0), shapely.box(8.0, 0.0, 19.5, 3.0)
    ground = Ground.of((-14.0, -1.0, 70.0, 4.0), part.union(other), shapely.Point())
    beside = shapely.box(24.5, -1.0, 42.0, 4.0)  # no words here
    ground = replace(ground, keep_off=(*ground.keep_off, beside))
    (found,) = place([label_request("part", part)], ground)
    assert found.leader is not None
    assert found.leader[0][0] > 42.0
    (free,) = place([label_request("part", part.union(other))], ground)
    assert free.leader is not None
    assert free.leader[0][0] < 8.0


def test_words_that_find_no_place_are_asked_first() -> None:
    """One place is at the right, one at the left, and an arrow between two parts. What names
    either of them takes the left place, unless it is the only one for the other."""
    left, right = shapely.box(0.0, 0.0, 3.0, 3.0), shapely.box(5.0, 0.0, 8.0, 3.0)
    arrow = shapely.box(3.6, -2.0, 4.4, 5.0)
    ground = Ground.of((-12.0, -1.0, 20.0, 4.0), shapely.union_all([left, right, arrow]), arrow)
    either, other = label_request("both", left.union(right)), label_request("one", left)
    (alone,) = place([either], ground)
    assert alone.leader is not None
    assert alone.leader[0][0] < 0.0
    found = {p.request.text: p for p in place([either, other], ground)}
    assert set(found) == {"both", "one"}
    assert found["both"].box[0] > 8.0
