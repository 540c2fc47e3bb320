"""Folds: what turns, what stays, what goes along, and which paper ends on top."""

from __future__ import annotations

import itertools
import math

import pytest
from msgspec.structs import replace

from publisher.assembly import FoldMotion, Story, assemble, closed_size, finished_size, layers
from publisher.geometry.path import Region, polygon
from publisher.geometry.space import lift
from publisher.model.types import Action, MatOf, Piece
from tests.assembly.build import do, folds, panels, part, pattern, sheet, strip
from tests.handmade import drawer, envelope_pattern


def told(pieces: list[Piece], *actions: Action) -> Story:
    story, findings = assemble(pattern(pieces, *actions))
    assert findings == []
    return story


def fold_motion(story: Story, frame: int = -1) -> FoldMotion:
    motion = story.frames[frame].motions[0]
    assert isinstance(motion, FoldMotion)
    return motion


def test_of_two_parts_the_smaller_one_moves() -> None:
    wide_first = strip("card", [60, 20], 40)
    story = told([wide_first], do("fold", *folds("card", "b")))
    assert fold_motion(story).moving == ("b",)
    narrow_first = strip("card", [20, 60], 40)
    story = told([narrow_first], do("fold", *folds("card", "b")))
    assert fold_motion(story).moving == ("a",)
    before, after = story.frames[0].before.body("card-1"), story.end.body("card-1")
    assert after.facet_pose("b") == before.facet_pose("b")


def test_of_many_parts_the_one_with_most_hinges_stays() -> None:
    deep = drawer(120.0)  # each wall is larger than the base
    story = told([deep], do("fold", part("drawer")))
    assert "base" not in fold_motion(story).moving
    assert len(fold_motion(story).moving) == 8


def test_a_panel_that_is_no_child_names_the_one_fold_on_it() -> None:
    card = strip("card", [20, 60], 40)
    story = told([card], do("fold", *panels("card", "a")))
    assert fold_motion(story).folds == (("b", 0.0, 180.0),)


@pytest.mark.parametrize(("bend", "up"), [("m", -1.0), ("v", 1.0)])
def test_mountain_goes_away_from_the_front(bend: str, up: float) -> None:
    card = strip("card", [60, 20], 40, bend)
    story = told([card], do("fold", *folds("card", "b"), by=90.0))
    pose = story.end.body("card-1").facet_pose("b")
    tip = pose.apply(lift((80.0, 0.0)))
    hinge = pose.apply(lift((60.0, 0.0)))
    assert tip[2] - hinge[2] == pytest.approx(20.0 * up)


def test_an_angle_said_is_an_angle_from_flat() -> None:
    card = strip("card", [60, 20], 40, "v")
    half, whole = do("fold", *folds("card", "b"), by=30.0), do("fold", *folds("card", "b"))
    story = told([card], half, whole)
    assert fold_motion(story, 0).folds == (("b", 0.0, 30.0),)
    assert fold_motion(story, 1).folds == (("b", 30.0, 180.0),)
    pose = story.frames[0].after.body("card-1").facet_pose("b")
    rise = pose.apply(lift((80.0, 0.0)))[2]
    assert rise == pytest.approx(20.0 * math.sin(math.radians(30.0)))


def test_a_fold_made_twice_is_said() -> None:
    card = strip("card", [60, 20], 40)
    again = do("fold", *folds("card", "b"))
    story, findings = assemble(pattern([card], again, again))
    assert [(d.code, d.severity) for d in findings] == [("folded-already", "warning")]
    assert story.frames[1].motions == ()


def test_every_copy_folds() -> None:
    card = strip("card", [60, 20], 40, copies=2)
    story = told([card], do("fold", *folds("card", "b")))
    assert [m.body for m in story.frames[0].motions if isinstance(m, FoldMotion)] == [
        "card-1",
        "card-2",
    ]
    one, two = story.end.body("card-1"), story.end.body("card-2")
    # The second copy lies beside the first.
    assert two.pose.shift[0] - one.pose.shift[0] >= 80.0


def test_what_is_glued_to_a_flap_goes_along() -> None:
    card, label = strip("card", [60, 30], 40), sheet("label", 20, 30)
    story = told(
        [card, label],
        do("glue", part("label"), to="to", objects=panels("card", "b")),
        do("fold", *folds("card", "b"), by=90.0),
    )
    for frame in story.frames:
        flap = frame.after.body("card-1").facet_pose("b")
        label_at = flap.inverse().after(frame.after.body("label-1").pose)
        # In the middle of the flap (60..90 by 0..40), one caliper over its front.
        assert label_at.shift == pytest.approx((65.0, -5.0, 0.4))
        assert label_at.normal == pytest.approx((0.0, 0.0, 1.0))


# ---------------------------------------------------------------- who lies on whom


def stack(pieces: list[Piece], facet: str, point: tuple[float, float], *names: str) -> str:
    """The papers over a point after folding the named folds one by one; lowest first."""
    card = pieces[0]
    actions = [do("fold", *folds(card.name, name)) for name in names]
    made = pattern(pieces, *actions)
    story, findings = assemble(made)
    assert findings == []
    found = layers(made, story.end, (f"{card.name}-1", facet), point)
    return "".join(name for _, name in found.facets)


def test_rolled_from_the_first_fold_on_goes_round_the_outside() -> None:
    # a | b | c, all mountain: first a under b, then c round both.
    card = strip("card", [30, 30, 30], 40)
    assert stack([card], "b", (45, 20), "b", "c") == "cab"


def test_rolled_from_the_last_fold_on_goes_inside() -> None:
    card = strip("card", [30, 30, 30], 40)
    assert stack([card], "b", (45, 20), "c", "b") == "acb"


def test_folds_of_one_action_count_in_the_order_named() -> None:
    card = strip("card", [30, 30, 30], 40)
    for names, expected in ((("b", "c"), "cab"), (("c", "b"), "acb")):
        made = pattern([card], do("fold", *folds("card", *names)))
        story, _ = assemble(made)
        found = layers(made, story.end, ("card-1", "b"), (45, 20))
        assert "".join(n for _, n in found.facets) == expected


def test_pleated_strip_lies_in_order() -> None:
    card = strip("card", [30] * 5, 40, "mvmv")
    lowest_first = stack([card], "b", (45, 20), "b", "c", "d", "e")
    assert lowest_first in ("abcde", "edcba")


@pytest.mark.parametrize("bends", ["".join(b) for b in itertools.product("mv", repeat=3)])
@pytest.mark.parametrize("order", list(itertools.permutations("bcd")))
def test_folding_one_after_the_other_never_runs_in_a_circle(
    bends: str, order: tuple[str, ...]
) -> None:
    """Each simple fold of a flat packet keeps the packet's order and lays the moving part,
    turned upside down, on one side of the other: worked out here on lists, without space.
    Where that would pull the last panel through the first fold, the panels are rolled up."""
    card = strip("card", [30] * 4, 40, bends)
    found = stack([card], "b", (45, 20), *order)
    expected = simple_folds("abcd", bends, order)
    if passes_through(expected):
        assert sorted(found) == list("abcd")
        assert not passes_through(found)
    else:
        assert found in (expected, expected[::-1])


def passes_through(order: str) -> bool:
    """Of a strip of four folded up, the folds a-b and c-d lie on each other: one may lie within
    the other or beside it; half in and half out is paper through paper."""
    first, second = sorted((order.index("a"), order.index("b")))
    return sum(first < order.index(name) < second for name in "cd") == 1


def simple_folds(names: str, bends: str, order: tuple[str, ...]) -> str:
    """Packets of a strip, lowest first. A packet is (panels lowest first, their faces: +1
    front up). Folding joins the packets at both sides of a fold."""
    packets = {n: ([n], {n: 1}) for n in names}
    for fold in order:
        left, right = names[names.index(fold) - 1], fold
        stays, moves = packets[left], packets[right]
        bend = bends[names.index(fold) - 1]
        # The moving packet swings over the side to which the fold opens: a valley towards
        # the front of the panel beside the fold, which may look up or down.
        faces_up = stays[1][left]
        if moves[1][right] != faces_up:  # bring both to the same side before folding
            moves = turned_over(moves)
        over = (bend == "v") == (faces_up > 0)
        moves = turned_over(moves)
        panels = stays[0] + moves[0] if over else moves[0] + stays[0]
        joined = (panels, {**stays[1], **moves[1]})
        for name in panels:
            packets[name] = joined
    return "".join(packets[names[0]][0])


def turned_over(
    packet: tuple[list[str], dict[str, int]],
) -> tuple[list[str], dict[str, int]]:
    return packet[0][::-1], {name: -face for name, face in packet[1].items()}


def test_a_liner_behind_a_flap_ends_inside() -> None:
    """A liner glued behind a flap stands off its plane; folded over, it lies between."""
    card, liner = strip("card", [60, 50], 40), sheet("liner", 30, 30)
    liner = replace(liner, derived=MatOf("card", "b", 5.0, True, (70.0, 5.0)))
    made = pattern(
        [card, liner],
        do("glue", part("liner"), to="behind", objects=panels("card", "b")),
        do("fold", *folds("card", "b")),
    )
    story, findings = assemble(made)
    assert findings == []
    found = layers(made, story.end, ("card-1", "a"), (40, 20))
    assert [name for _, name in found.facets] == ["b", "liner", "a"]


def test_folded_over_a_loose_sheet_the_flap_lies_on_top() -> None:
    card, note = strip("card", [90, 60], 40, "v"), sheet("note", 30, 30)
    made = pattern(
        [card, note],
        do("lay", part("note"), to="on", objects=(part("card"),)),
        do("fold", *folds("card", "b")),
    )
    story, findings = assemble(made)
    assert findings == []
    # The note lies in the middle of the open card: over 60..90 of its first panel.
    found = layers(made, story.end, ("card-1", "a"), (75, 20))
    assert [name for _, name in found.facets] == ["a", "note", "b"]


# ---------------------------------------------------------------- open, close, push


def test_close_folds_everything_that_is_free_and_open_undoes_it() -> None:
    story = told([drawer()], do("close", part("drawer")), do("open", part("drawer")))
    closed, opened = (f.after.body("drawer-1") for f in story.frames)
    assert set(dict(closed.angles).values()) == {90.0}
    assert set(dict(opened.angles).values()) == {0.0}
    flat = story.frames[0].before.body("drawer-1")
    for (name, pose), (_, first) in zip(opened.facets, flat.facets, strict=True):
        for corner in drawer().facet(name).region.outer.segments:
            gap = math.dist(pose.apply(lift(corner.start)), first.apply(lift(corner.start)))
            assert gap < 1e-9


def test_glued_walls_are_not_free_to_open() -> None:
    tabs = panels("drawer", "tab 1", "tab 2", "tab 3", "tab 4")
    made = pattern(
        [drawer()],
        do("fold", part("drawer")),
        do("glue", *tabs),
        do("open", part("drawer")),
    )
    story, findings = assemble(made)
    assert [d.code for d in findings] == ["no-fold"]
    assert story.frames[-1].motions == ()


def test_a_glued_envelope_opens_at_its_flap_only() -> None:
    whole = envelope_pattern()
    more = replace(
        whole.steps[-1], actions=(*whole.steps[-1].actions, do("open", part("envelope")))
    )
    story, findings = assemble(replace(whole, steps=(*whole.steps[:-1], more)))
    assert findings == []
    assert fold_motion(story).folds == (("top flap", 180.0, 0.0),)


def test_push_of_a_panel_folds_it() -> None:
    card = strip("card", [60, 20], 40, "v", closing=90.0)
    story = told([card], do("push", *panels("card", "b")))
    assert fold_motion(story).folds == (("b", 0.0, 90.0),)


def test_stacked_size_agrees_with_the_model() -> None:
    for bends in ("mm", "mv", "vv"):
        card = strip("card", [30, 30, 30], 40, bends)
        made = pattern([card], do("fold", part("card")))
        story, _ = assemble(made)
        assert finished_size(made, story.end) == pytest.approx((30.0, 40.0, 1.2))
        assert closed_size(card) == pytest.approx((30.0, 40.0, 1.2))


def test_a_window_leaves_the_papers_under_it() -> None:
    card = strip("card", [60, 60], 40)
    hole = polygon(((70, 10), (70, 30), (100, 30), (100, 10)))
    flap = replace(card.facets[1], region=Region(card.facets[1].region.outer, (hole,)))
    card = replace(card, facets=(card.facets[0], flap))
    made = pattern([card], do("fold", *folds("card", "b")))
    story, _ = assemble(made)
    # The flap's 70..100 comes to lie over 50..20 of the first panel.
    assert layers(made, story.end, ("card-1", "a"), (35, 20)).papers == 1
    assert layers(made, story.end, ("card-1", "a"), (10, 20)).papers == 2
