"""Turning, wrapping, sliding, laying: where bodies come to stand, and by what way."""

from __future__ import annotations

import itertools
import math

import pytest
from msgspec.structs import replace

from publisher.assembly import (
    Body,
    FoldMotion,
    MoveMotion,
    State,
    Story,
    TurnMotion,
    assemble,
    closed_size,
    finished_size,
)
from publisher.assembly.bodies import box
from publisher.assembly.kit import kit_of
from publisher.assembly.travel import axis_and_angle
from publisher.geometry.space import Vector, lift, turned
from publisher.model.types import Action, BandOf, Pattern, Piece, Target
from tests.assembly.build import do, folds, panels, part, pattern, sheet, strip, tray
from tests.handmade import drawer, sleeve, sleeve_mat

OVER = do("turn", part("drawer"), to="over")
CLOSE = do("fold", part("drawer"))
WRAP = do("wrap", part("sleeve"), to="around", objects=(part("drawer"),))
GLUE = do("glue", *panels("sleeve", "overlap"))
SLIDE_IN = do("slide", part("drawer"), to="into", objects=(part("sleeve"),))


def world_box(made: Pattern, body: Body, calipers: bool = False) -> tuple[Vector, Vector]:
    return box(kit_of(made), [body], calipers)


def told(made: Pattern) -> Story:
    story, findings = assemble(made)
    assert findings == []
    return story


def spares(made: Pattern, state: State, outer: str, inner: str) -> list[tuple[float, float]]:
    """Free between the inside of one body and the outside of another: (low, high) each way."""
    (a0, a1), (b0, b1) = (
        world_box(made, state.body(outer)),
        world_box(made, state.body(inner), calipers=True),
    )
    return [(b0[i] - a0[i], a1[i] - b1[i]) for i in range(3)]


# ---------------------------------------------------------------- turning


def test_turned_over_it_rests_on_the_table_again() -> None:
    made = pattern([drawer()], CLOSE, OVER)
    story = told(made)
    # Folded front up, the walls hang down; turned over they stand on the table.
    assert world_box(made, story.frames[0].after.body("drawer-1"))[0][2] == pytest.approx(-22)
    least, greatest = world_box(made, story.end.body("drawer-1"))
    assert (least[2], greatest[2]) == pytest.approx((0.0, 22.0))
    motion = story.frames[1].motions[0]
    assert isinstance(motion, TurnMotion)
    assert motion.angle_deg == 180.0
    assert motion.axis == (-1.0, 0.0, 0.0)


def test_the_near_edge_rises_as_it_is_turned_over() -> None:
    made = pattern([sheet("card", 60, 40)], do("turn", part("card"), to="over"))
    (motion,) = told(made).frames[0].motions
    assert isinstance(motion, TurnMotion)
    near = turned(motion.origin, motion.axis, 90.0).apply((0.0, -20.0, 0.0))
    assert near[2] == pytest.approx(20.0)


@pytest.mark.parametrize("angle", [90.0, 180.0, 270.0, 37.0])
def test_the_motion_says_what_the_pose_did(angle: float) -> None:
    made = pattern([drawer()], CLOSE, replace(OVER, angle_deg=angle))
    story = told(made)
    (motion,) = story.frames[1].motions
    assert isinstance(motion, TurnMotion)
    spin = turned(motion.origin, motion.axis, motion.angle_deg)
    before, after = (s.body("drawer-1") for s in (story.frames[1].before, story.end))
    assert spin.after(before.pose).shift == pytest.approx(after.pose.shift)
    assert world_box(made, after)[0][2] == pytest.approx(0.0, abs=1e-9)


def test_a_turn_on_the_table_goes_clockwise_as_seen_from_above() -> None:
    made = pattern([sheet("card", 60, 40)], do("turn", part("card"), by=90.0))
    body = told(made).end.body("card-1")
    # The top left corner comes to the top right.
    assert body.pose.apply(lift((0, 0))) == pytest.approx((20.0, 30.0, 0.0))


def test_a_piece_with_its_back_up_is_taken_up_so() -> None:
    card = replace(sheet("card", 60, 40), back_up=True)
    story = told(pattern([card], do("press", part("card"))))
    body = story.frames[0].before.body("card-1")
    assert body.pose.normal == (0.0, 0.0, -1.0)
    assert story.frames[0].motions[0].face == "back"  # type: ignore[union-attr]


@pytest.mark.parametrize("angle", [0.0, 1.0, 90.0, 179.9999999, 180.0])
@pytest.mark.parametrize("axis", [(1, 0, 0), (0, 1, 0), (0, 0, 1), (1, 2, 3), (-1, 1, 0)])
def test_axis_and_angle_give_the_rotation_back(angle: float, axis: Vector) -> None:
    first = turned((0, 0, 0), axis, angle)
    found, degrees = axis_and_angle(first.rotation)
    again = turned((0, 0, 0), found, degrees)
    for row, other in zip(first.rotation, again.rotation, strict=True):
        assert row == pytest.approx(other, abs=1e-7)


# ---------------------------------------------------------------- wrapping


@pytest.mark.parametrize("over", [False, True])
def test_the_body_stands_in_the_middle_of_the_band(over: bool) -> None:
    actions = [CLOSE, OVER, WRAP] if over else [CLOSE, WRAP]
    made = pattern([drawer(), sleeve()], *actions)
    story = told(made)
    free = spares(made, story.end, "sleeve-1", "drawer-1")
    # 1 mm of play in all: half on each side, along y and z; along x both are 124.8 long.
    assert free[0] == pytest.approx((0.0, 0.0), abs=1e-9)
    assert free[1] == pytest.approx((0.5, 0.5))
    assert free[2] == pytest.approx((0.5, 0.5))
    assert story.frames[-1].residual_mm == 0.0


@pytest.mark.parametrize("over", [False, True])
def test_panel_1_lies_over_the_opening(over: bool) -> None:
    actions = [CLOSE, OVER, WRAP] if over else [CLOSE, WRAP]
    story = told(pattern([drawer(), sleeve()], *actions))
    body, band = story.end.body("drawer-1"), story.end.body("sleeve-1")
    base, first = body.facet_pose("base"), band.facet_pose("panel 1")
    # The base's front looks out at the bottom, so its back looks to the opening.
    assert first.normal == pytest.approx(tuple(-v for v in base.normal))
    assert band.facet_pose("panel 3").normal == pytest.approx(base.normal)
    gap = base.inverse().apply(first.apply((0.0, 0.0, 0.0)))[2]
    assert gap == pytest.approx(-22.5)


def test_the_band_goes_round_the_way_it_says() -> None:
    story = told(pattern([drawer(), sleeve()], CLOSE, OVER, WRAP))
    base = story.end.body("drawer-1").facet_pose("base")
    first = story.end.body("sleeve-1").facet_pose("panel 1")
    across = base.inverse().turn(first.turn((1.0, 0.0, 0.0)))
    assert abs(across[0]) == pytest.approx(1.0)


def across_band(size: tuple[float, float, float], ease: float) -> Piece:
    """A band that goes across, round x and z, as wide as the body is high."""
    w, h, d = size
    band = strip("band", [w + ease, d + ease, w + ease, d + ease], h, closing=90.0)
    names = {p.name: f"panel {i + 1}" for i, p in enumerate(band.panels)}
    return replace(
        band,
        panels=tuple(replace(p, name=names[p.name]) for p in band.panels),
        facets=tuple(replace(f, name=names[f.name], panel=names[f.panel]) for f in band.facets),
        folds=tuple(
            replace(f, name=names[f.name], parent=names[f.parent], child=names[f.child])
            for f in band.folds
        ),
        hinges=tuple(
            replace(h_, fold=names[h_.fold], parent=names[h_.parent], child=names[h_.child])
            for h_ in band.hinges
        ),
        derived=BandOf("box", ("closed",), "across", size, ease, 0.0, 0.0, ()),
    )


@pytest.mark.parametrize("bend", ["mountain", "valley"])
def test_a_band_across_a_tray(bend: str) -> None:
    box_piece = tray("box", 60, 100, 20, "valley" if bend == "valley" else "mountain")
    band = across_band(closed_size(box_piece), 2.0)
    made = pattern(
        [box_piece, band],
        do("fold", part("box")),
        do("wrap", part("band"), to="around", objects=(part("box"),)),
    )
    story = told(made)
    free = spares(made, story.end, "band-1", "box-1")
    assert free[0] == pytest.approx((1.0, 1.0))
    assert free[1] == pytest.approx((0.0, 0.0), abs=1e-9)
    assert free[2] == pytest.approx((1.0, 1.0))
    base = story.end.body("box-1").facet_pose("base").normal
    first = story.end.body("band-1").facet_pose("panel 1").normal
    side = 1.0 if bend == "valley" else -1.0
    assert first == pytest.approx(tuple(side * v for v in base))


def test_a_band_turns_to_the_body_before_it_is_laid_on() -> None:
    """A drawer turned on the table: the band is turned with it, no more than it must be."""
    quarter = do("turn", part("drawer"), by=90.0)
    made = pattern([drawer(), sleeve()], CLOSE, OVER, quarter, WRAP)
    story = told(made)
    turn, move, fold = story.frames[-1].motions
    assert isinstance(turn, TurnMotion)
    assert isinstance(move, MoveMotion)
    assert isinstance(fold, FoldMotion)
    assert turn.angle_deg == pytest.approx(90.0)
    assert abs(turn.axis[2]) == pytest.approx(1.0)
    free = spares(made, story.end, "sleeve-1", "drawer-1")
    assert free[1] == pytest.approx((0.0, 0.0), abs=1e-9)
    assert free[0] == pytest.approx((0.5, 0.5))


def test_motions_of_a_wrap_lead_from_before_to_after() -> None:
    made = pattern(
        [drawer(), sleeve(), sleeve_mat()],
        CLOSE,
        OVER,
        do("turn", part("drawer"), by=90.0),
        do("glue", part("sleeve mat"), to="to", objects=panels("sleeve", "panel 1")),
        WRAP,
    )
    frame = told(made).frames[-1]
    turn, move, fold = frame.motions
    assert isinstance(turn, TurnMotion)
    assert isinstance(move, MoveMotion)
    assert isinstance(fold, FoldMotion)
    assert move.bodies == ("sleeve-1", "sleeve-mat-1")
    spin = turned(turn.origin, turn.axis, turn.angle_deg)
    carried = [-v for v in move.path[0]]
    for body in move.bodies:
        before, after = frame.before.body(body), frame.after.body(body)
        facet = "panel 1" if body == "sleeve-1" else "sleeve mat"
        for point in ((0.0, 0.0), (10.0, 0.0), (0.0, 10.0)):
            start = spin.apply(before.facet_pose(facet).apply(lift(point)))
            end = [a + b for a, b in zip(start, carried, strict=True)]
            assert end == pytest.approx(after.facet_pose(facet).apply(lift(point)))
    assert "panel 1" not in fold.moving
    assert set(fold.moving) == {"panel 2", "panel 3", "panel 4", "overlap"}
    # The path goes up first, then across, then down over the body.
    heights = [p[2] for p in move.path]
    assert heights[1] == pytest.approx(heights[2])
    assert heights[1] > heights[0]


def test_a_body_that_is_not_closed_is_a_finding() -> None:
    walls = folds("drawer", "front wall", "back wall", "left wall")
    _, findings = assemble(pattern([drawer(), sleeve()], do("fold", *walls), WRAP))
    (finding,) = findings
    assert finding.code == "not-closed"
    assert "right wall" in finding.message


def test_a_band_too_short_has_a_residual() -> None:
    made = pattern([drawer(24.0), sleeve(22.0)], CLOSE, WRAP)
    story, _ = assemble(made)
    # The drawer is 24.4 deep, the sleeve 23.4.
    assert story.frames[-1].residual_mm == pytest.approx(1.0)


# ---------------------------------------------------------------- sliding


def test_a_drawer_elsewhere_is_carried_into_its_sleeve() -> None:
    closed = do("fold", part("sleeve"))
    made = pattern([drawer(), sleeve()], CLOSE, OVER, closed, GLUE, SLIDE_IN)
    story = told(made)
    frame = story.frames[-1]
    free = spares(made, story.end, "sleeve-1", "drawer-1")
    assert [a for pair in free for a in pair] == pytest.approx(
        [0.0, 0.0, 0.5, 0.5, 0.5, 0.5], abs=1e-9
    )
    base = story.end.body("drawer-1").facet_pose("base").normal
    first = story.end.body("sleeve-1").facet_pose("panel 1").normal
    assert first == pytest.approx(tuple(-v for v in base))
    move = frame.motions[-1]
    assert isinstance(move, MoveMotion)
    assert move.bodies == ("drawer-1",)
    # The last leg runs along the sleeve's axis, from outside its open end.
    last = move.path[-2]
    assert abs(last[0]) == pytest.approx(124.8 + 10.0)
    assert last[1:] == pytest.approx((0.0, 0.0), abs=1e-9)
    assert frame.before.body("sleeve-1") == frame.after.body("sleeve-1")


def test_a_sleeve_slides_over_its_drawer() -> None:
    closed = do("fold", part("sleeve"))
    over = do("slide", part("sleeve"), to="over", objects=(part("drawer"),))
    made = pattern([drawer(), sleeve()], CLOSE, OVER, closed, GLUE, over)
    story = told(made)
    free = spares(made, story.end, "sleeve-1", "drawer-1")
    assert [a for pair in free[1:] for a in pair] == pytest.approx([0.5] * 4)
    frame = story.frames[-1]
    assert frame.before.body("drawer-1") == frame.after.body("drawer-1")


def test_a_lid_slides_over_its_tray_openings_together() -> None:
    """Inside 80 x 80 x 40 with a caliper of 0.4: outside 80.8; a lid 82 inside leaves 1.2."""
    made = pattern(
        [tray("tray", 80, 80, 40), tray("lid", 82, 82, 20)],
        do("fold", part("tray")),
        do("turn", part("tray"), to="over"),
        do("fold", part("lid")),
        do("turn", part("lid"), to="over"),
        do("slide", part("lid"), to="over", objects=(part("tray"),)),
    )
    story = told(made)
    free = spares(made, story.end, "lid-1", "tray-1")
    assert free[0] == pytest.approx((0.6, 0.6))
    assert free[1] == pytest.approx((0.6, 0.6))
    lid, body = story.end.body("lid-1"), story.end.body("tray-1")
    assert body.facet_pose("base").normal == pytest.approx((0.0, 0.0, -1.0))
    assert lid.facet_pose("base").normal == pytest.approx((0.0, 0.0, 1.0))
    # Its base lies on the tray's rim, 40 over the table.
    assert lid.facet_pose("base").apply((0.0, 0.0, 0.0))[2] == pytest.approx(40.0)
    move = story.frames[-1].motions[-1]
    assert isinstance(move, MoveMotion)
    assert move.path[-2][2] > 20.0  # it comes from above
    assert move.path[-2][:2] == pytest.approx((0.0, 0.0), abs=1e-9)


def test_a_tray_goes_into_a_larger_one_the_same_way_up() -> None:
    made = pattern(
        [tray("tray", 80, 60, 20), tray("outer", 84, 64, 30)],
        do("fold", part("tray")),
        do("turn", part("tray"), to="over"),
        do("fold", part("outer")),
        do("turn", part("outer"), to="over"),
        do("slide", part("tray"), to="into", objects=(part("outer"),)),
    )
    story = told(made)
    free = spares(made, story.end, "outer-1", "tray-1")
    assert free[0] == pytest.approx((1.6, 1.6))
    assert free[1] == pytest.approx((1.6, 1.6))
    assert free[2][0] == pytest.approx(0.0)  # on the floor
    normals = [story.end.body(b).facet_pose("base").normal for b in ("tray-1", "outer-1")]
    assert normals[0] == pytest.approx(normals[1])


def test_what_is_too_large_has_no_way_in() -> None:
    made = pattern(
        [tray("tray", 80, 60, 20), tray("outer", 50, 50, 30)],
        do("fold", part("tray")),
        do("fold", part("outer")),
        do("slide", part("tray"), to="into", objects=(part("outer"),)),
    )
    story, findings = assemble(made)
    (finding,) = findings
    assert finding.code == "no-way-in"
    # Stood on its end, which comes nearest: 60 inside and a wall of 0.4 on either side, into 50.
    assert finding.message.endswith("as they are folded now: 10.8 mm (0.425 in) is missing")
    # However it is turned: on edge, 20.4 by 60.8, it is least too large for 50 by 50.
    assert dict(finding.numbers)["missing_mm"] == pytest.approx(10.8)
    assert story.frames[-1].residual_mm == pytest.approx(10.8)


def test_a_group_slides_as_one() -> None:
    label = sheet("label", 20, 10)
    made = pattern(
        [drawer(), sleeve(), label],
        CLOSE,
        OVER,
        do("glue", part("label"), to="to", objects=panels("drawer", "front wall")),
        do("fold", part("sleeve")),
        GLUE,
        SLIDE_IN,
    )
    story, _ = assemble(made)
    move = story.frames[-1].motions[-1]
    assert isinstance(move, MoveMotion)
    assert move.bodies == ("drawer-1", "label-1")


# ---------------------------------------------------------------- laying, names, not yet


def test_laid_on_another_it_rests_on_its_paper() -> None:
    made = pattern(
        [sheet("under", 60, 40), sheet("upper", 20, 20)],
        do("lay", part("under")),
        do("lay", part("upper"), to="on", objects=(part("under"),)),
    )
    story = told(made)
    assert story.end.body("upper-1").pose.apply(lift((10, 10))) == pytest.approx((0, 0, 0.4))
    assert story.end.above == ((("under-1", "under"), ("upper-1", "upper"), 1),)


def test_what_is_made_can_be_named_later() -> None:
    card, label = strip("card", [60], 40), sheet("label", 20, 20)
    made = pattern(
        [card, label],
        do("glue", part("label"), to="to", objects=panels("card", "a"), called="front"),
        do("turn", Target("made", "front"), to="over"),
    )
    story = told(made)
    assert story.end.made == (("front", ("card-1", "label-1")),)
    turn = story.frames[1].motions[0]
    assert isinstance(turn, TurnMotion)
    assert turn.bodies == ("card-1", "label-1")


NOT_YET = [
    do("curl", Target("object", "stack")),
    do("push", part("card", "notch", "glue")),
    do("wrap", part("card"), to="around", objects=(part("label"),)),
    do("slide", part("card"), to="into", objects=(part("label"),)),
    do("slide", part("card"), to="under", objects=(part("label"),)),
    do("slide", *panels("card", "a"), to="into", objects=(part("label"),)),
    do("lay", Target("object", "stack"), to="on", objects=(part("card"),)),
    do("turn", Target("object", "stack"), to="over"),
    do("press", Target("object", "stack")),
    do("glue", Target("object", "stack")),
    do("glue", Target("object", "stack"), to="to", objects=(part("card"),)),
]


@pytest.mark.parametrize("action", NOT_YET, ids=lambda a: f"{a.verb} {a.relation}")
def test_what_cannot_be_worked_out_is_said_at_its_word(action: Action) -> None:
    made = pattern([strip("card", [60], 40), sheet("label", 20, 20)], action)
    story, findings = assemble(made)
    assert [d.code for d in findings] == ["not-yet"]
    span = findings[0].places[0].span
    assert span.end - span.start == len(action.verb)
    assert len(story.frames) == 1
    assert story.end.bonds == ()


def test_no_steps_no_frames() -> None:
    story, findings = assemble(pattern([drawer()]))
    assert (story.frames, findings) == ((), [])
    assert [b.placed for b in story.end.bodies] == [False]
    assert finished_size(pattern([drawer()]), story.end) == (0.0, 0.0, 0.0)


def test_distances_within_a_body_never_change_in_a_move() -> None:
    made = pattern([drawer(), sleeve()], CLOSE, OVER, do("fold", part("sleeve")), GLUE, SLIDE_IN)
    story = told(made)
    before, after = (s.body("drawer-1") for s in (story.frames[-1].before, story.end))
    points = [
        (a.apply(lift((x, y))), b.apply(lift((x, y))))
        for (_, a), (_, b) in zip(before.facets, after.facets, strict=True)
        for x, y in ((0.0, 0.0), (30.0, 20.0))
    ]
    for (a, b), (c, d) in itertools.combinations(points, 2):
        assert math.dist(a, c) == pytest.approx(math.dist(b, d), abs=1e-9)
