"""Glue: where parts come to lie, what holds, and what does not reach."""

from __future__ import annotations

import pytest
from msgspec.structs import replace

from publisher.assembly import Mark, MoveMotion, assemble
from publisher.geometry.path import circle
from publisher.geometry.space import lift
from publisher.model.types import MatOf, Opening, Piece, Target
from tests.assembly.build import HERE, do, folds, panels, part, pattern, sheet, strip, zone
from tests.checks.mutating import assembled
from tests.checks.mutations_moved import TABBED
from tests.compiled import told_by
from tests.handmade import drawer, sleeve, sleeve_mat

TABS = panels("drawer", "tab 1", "tab 2", "tab 3", "tab 4")


def moved_tab(piece: Piece, tab: str, meets: tuple[str, str]) -> Piece:
    """The piece with one tab that meets another edge."""
    chosen = tuple(replace(p, meets=meets) if p.name == tab else p for p in piece.panels)
    zones = tuple(
        replace(z, meets=(piece.name, meets[0])) if z.panel == tab else z for z in piece.glue_zones
    )
    return replace(piece, panels=chosen, glue_zones=zones)


def test_a_tab_too_far_from_its_edge_is_a_finding_with_numbers() -> None:
    # Tab 1 lies at the near end of the left wall; its far edge is 84 away.
    wrong = moved_tab(drawer(), "tab 1", ("left wall", "top"))
    story, findings = assemble(pattern([wrong], do("fold", part("drawer")), do("glue", *TABS)))
    (finding,) = findings
    assert (finding.code, finding.severity) == ("tab-misses", "error")
    numbers = dict(finding.numbers)
    assert numbers["edge_mm"] == pytest.approx(84.0)
    assert numbers["angle_deg"] == pytest.approx(0.0)
    assert numbers["away_mm"] == pytest.approx(0.0, abs=1e-9)
    assert "84 mm" in finding.message
    assert len(story.end.bonds) == 3
    assert story.frames[1].residual_mm == pytest.approx(84.0)


def test_a_tab_that_was_not_folded_says_its_angle() -> None:
    walls = folds("drawer", "front wall", "back wall", "left wall", "right wall")
    story, findings = assemble(pattern([drawer()], do("fold", *walls), do("glue", *TABS)))
    assert [d.code for d in findings] == ["tab-misses"] * 4
    assert dict(findings[0].numbers)["angle_deg"] == pytest.approx(90.0)
    assert "90" in findings[0].message
    assert story.end.bonds == ()


def test_glue_may_come_before_the_fold() -> None:
    walls = folds("drawer", "front wall", "back wall", "left wall", "right wall")
    tabs = folds("drawer", "tab 1", "tab 2", "tab 3", "tab 4")
    story, findings = assemble(
        pattern([drawer()], do("fold", *tabs), do("glue", *TABS), do("fold", *walls))
    )
    assert findings == []
    assert story.frames[1].after.bonds == ()
    assert len(story.frames[2].after.bonds) == 4
    assert story.frames[2].residual_mm < 1e-9


@pytest.mark.parametrize("short", [0.3, 2.0])
def test_a_wall_cut_short_is_measured(short: float) -> None:
    """A left wall that stands ``short`` away from the corner: within two calipers the tab
    holds, with the distance as the residual; beyond, it misses."""
    piece = drawer()
    wall = piece.panel("left wall")
    ring = tuple((x, y - short if y > 100 else y) for x, y in wall.ring)
    edges = tuple(
        replace(e, start=a, end=b)
        for e, a, b in zip(wall.edges, ring, ring[1:] + ring[:1], strict=True)
    )
    panels_ = tuple(
        replace(p, ring=ring, edges=edges) if p.name == "left wall" else p for p in piece.panels
    )
    made = pattern([replace(piece, panels=panels_)], do("fold", part("drawer")), do("glue", *TABS))
    story, findings = assemble(made)
    assert story.frames[1].residual_mm == pytest.approx(short)
    assert [d.code for d in findings] == ([] if short < 0.8 else ["tab-misses"])


# ---------------------------------------------------------------- parts brought to a place


def test_a_mat_comes_from_over_its_panel() -> None:
    mat = do("glue", part("sleeve mat"), to="to", objects=panels("sleeve", "panel 1"))
    story, findings = assemble(pattern([sleeve(), sleeve_mat()], mat))
    assert findings == []
    frame = story.frames[0]
    assert frame.motions[0] == Mark("sleeve-mat-1", "glue", ("sleeve mat",), "back")
    motion = frame.motions[1]
    assert isinstance(motion, MoveMotion)
    assert motion.manner == "lay"
    assert motion.path[0][2] > 20.0
    assert motion.path[-1] == (0.0, 0.0, 0.0)
    above = frame.after.above
    assert above == ((("sleeve-1", "panel 1"), ("sleeve-mat-1", "sleeve mat"), 1),)
    # Before, it stands where its path begins.
    start, end = (s.body("sleeve-mat-1").pose.shift for s in (frame.before, frame.after))
    assert start[2] - end[2] == pytest.approx(motion.path[0][2])


def test_a_mat_behind_lies_on_the_back_face() -> None:
    card = strip("card", [60], 40)
    cover = replace(sheet("cover", 64, 44), derived=MatOf("card", "a", -2.0, True, (-2.0, -2.0)))
    story, findings = assemble(
        pattern([card, cover], do("glue", part("cover"), to="behind", objects=(part("card"),)))
    )
    assert findings == []
    body = story.end.body("cover-1")
    # Its own paper (0.4) reaches from its plane up to the card's back.
    assert body.pose.apply(lift((0, 0)))[2] == pytest.approx(-0.4)
    assert story.end.above == ((("cover-1", "cover"), ("card-1", "a"), 1),)
    assert {(b.first, b.second) for b in story.end.bonds} == {
        (("cover-1", "cover"), ("card-1", "a"))
    }


def test_a_piece_is_glued_to_the_mat_that_was_made_for_it() -> None:
    card = strip("card", [60], 40)
    cover = replace(sheet("cover", 64, 44), derived=MatOf("card", "a", -2.0, True, (-2.0, -2.0)))
    story, findings = assemble(
        pattern([card, cover], do("glue", part("card"), to="to", objects=(part("cover"),)))
    )
    assert findings == []
    cover_at = story.end.body("card-1").pose.inverse().after(story.end.body("cover-1").pose)
    assert cover_at.shift == pytest.approx((-2.0, 2.0, -0.4))


def test_edges_are_laid_on_edges_of_the_same_way() -> None:
    card, handle = strip("card", [60, 60], 40), sheet("handle", 10, 30)
    story, findings = assemble(
        pattern(
            [card, handle],
            do(
                "glue",
                part("handle", "left", "edge"),
                to="to",
                objects=(part("card", "top of a", "edge"),),
            ),
        )
    )
    assert findings == []
    card_at, pose = story.end.body("card-1").pose, story.end.body("handle-1").pose
    points = [card_at.inverse().apply(pose.apply(lift(p))) for p in ((0, 0), (0, 30), (10, 0))]
    # The handle's left edge lies on the top of panel a, middle on middle (15..45 of 0..60),
    # and the handle over the panel.
    xs = sorted(p[0] for p in points[:2])
    assert xs == pytest.approx([15.0, 45.0])
    assert [p[1] for p in points] == pytest.approx([0.0, 0.0, -10.0])


def test_a_backing_lies_behind_its_window() -> None:
    card, backing = strip("card", [60, 60], 40), sheet("backing", 30, 30)
    path = circle((80.0, 20.0), 10.0)
    pane = Opening("pane", "window", "circle", path, "b", 20.0, 20.0, HERE)
    card = replace(card, openings=(pane,))
    target = Target("opening", "card", "pane", span=HERE)
    story, findings = assemble(
        pattern([card, backing], do("glue", part("backing"), to="behind", objects=(target,)))
    )
    assert findings == []
    flap = story.end.body("card-1").facet_pose("b")
    middle = flap.inverse().apply(story.end.body("backing-1").pose.apply(lift((15, 15))))
    assert middle == pytest.approx((80.0, -20.0, -0.4))


def test_pairs_go_in_order() -> None:
    card, dot = strip("card", [60, 60], 40), replace(sheet("dot", 10, 10), copies=2)
    story, findings = assemble(
        pattern([card, dot], do("glue", part("dot"), to="to", objects=panels("card", "a", "b")))
    )
    assert findings == []
    held = {(b.first[0], b.second[1]) for b in story.end.bonds}
    assert held == {("dot-1", "a"), ("dot-2", "b")}


def test_gluing_two_parts_of_one_piece_asks_that_they_lie_on_each_other() -> None:
    card = strip("card", [60, 30], 40)
    joint = do("glue", *panels("card", "b"), to="to", objects=panels("card", "a"))
    story, findings = assemble(pattern([card], do("fold", *folds("card", "b")), joint))
    assert findings == []
    assert [(b.first[1], b.second[1]) for b in story.end.bonds] == [("b", "a")]
    story, findings = assemble(pattern([card], joint))
    assert [d.code for d in findings] == ["tab-misses"]


def test_a_placed_body_is_carried_to_its_place_with_all_that_holds_to_it() -> None:
    card, label, dot = strip("card", [60], 40), sheet("label", 30, 20), sheet("dot", 10, 10)
    story, findings = assemble(
        pattern(
            [card, label, dot],
            do("glue", part("dot"), to="to", objects=(part("label"),)),
            do("glue", part("label"), to="to", objects=panels("card", "a")),
        )
    )
    assert findings == []
    motion = story.frames[1].motions[-1]
    assert isinstance(motion, MoveMotion)
    assert motion.bodies == ("label-1", "dot-1")
    at = story.end.body("card-1").pose.inverse()
    assert at.after(story.end.body("label-1").pose).shift == pytest.approx((15, -10, 0.4))
    assert at.after(story.end.body("dot-1").pose).shift == pytest.approx((25, -15, 0.8))


# ---------------------------------------------------------------- zones without a partner


def pocket(face: str) -> Piece:
    """Two panels, valley; a zone along the far edge of the second."""
    card = strip("card", [60, 50], 40, "v")
    glued = zone("card", "b", (100, 0, 110, 40), "front" if face == "front" else "back", "strip")
    return replace(card, glue_zones=(glued,))


def test_a_zone_holds_what_comes_to_lie_on_its_face() -> None:
    made = pattern(
        [pocket("front")], do("glue", part("card", "strip", "glue")), do("fold", part("card"))
    )
    story, findings = assemble(made)
    assert findings == []
    assert [(b.first[1], b.second[1], b.zone) for b in story.end.bonds] == [("b", "a", "strip")]


def test_glue_on_the_wrong_face_meets_nothing() -> None:
    made = pattern(
        [pocket("back")], do("glue", part("card", "strip", "glue")), do("fold", part("card"))
    )
    story, findings = assemble(made)
    assert [d.code for d in findings] == ["glue-meets-nothing"]
    assert findings[0].message == "nothing comes to lie on the glue at strip of card"
    assert "on the back face of b" in findings[0].notes[0]
    assert story.end.bonds == ()


def test_a_zone_that_names_its_partner_must_have_it_on_its_face() -> None:
    card = pocket("back")
    (glued,) = card.glue_zones
    card = replace(card, glue_zones=(replace(glued, meets=("card", "a")),))
    made = pattern([card], do("fold", part("card")), do("glue", part("card")))
    _, findings = assemble(made)
    assert [d.code for d in findings] == ["tab-misses"]
    assert "back face" in findings[0].message


def test_glue_holds_the_nearest_paper_only() -> None:
    # c folds on b, then both on a: glue on c's outside holds a, not b beyond it.
    card = strip("card", [40, 40, 30], 40, "vv")
    glued = zone("card", "c", (85, 5, 105, 35), "back", "patch")
    card = replace(card, glue_zones=(glued,))
    story, findings = assemble(
        pattern(
            [card],
            do("glue", part("card", "patch", "glue")),
            do("fold", *folds("card", "c")),
            do("fold", *folds("card", "b")),
        )
    )
    assert findings == []
    assert [(b.first[1], b.second[1]) for b in story.end.bonds] == [("c", "a")]


def test_a_piece_without_zones_asks_where_the_glue_goes() -> None:
    _, findings = assemble(pattern([sheet("label", 20, 20)], do("glue", part("label"))))
    assert [d.code for d in findings] == ["no-glue-zone"]
    assert "‘glue on label, on back face’" in findings[0].notes[0]


def test_tape_makes_a_bond_of_tape() -> None:
    card, label = strip("card", [60], 40), sheet("label", 20, 20)
    story, _ = assemble(
        pattern([card, label], do("tape", part("label"), to="to", objects=panels("card", "a")))
    )
    assert [b.by for b in story.end.bonds] == ["tape"]


def test_a_tab_glued_outside_lies_outside() -> None:
    """Glue on a tab's back face puts it over the front of what it meets."""
    piece = sleeve()
    (glued,) = piece.glue_zones
    piece = replace(piece, glue_zones=(replace(glued, face="back"),), derived=None)
    story, findings = assemble(
        pattern([piece], do("fold", part("sleeve")), do("glue", *panels("sleeve", "overlap")))
    )
    assert findings == []
    pairs = {frozenset((a[1], b[1])): (a[1], side) for a, b, side in story.end.above}
    lower, side = pairs[frozenset(("overlap", "panel 1"))]
    # Seen from panel 1 the overlap is on its front; seen from the overlap, on its back.
    assert side == (1 if lower == "panel 1" else -1)


@pytest.mark.parametrize("side", ["left", "right"])
@pytest.mark.parametrize(
    ("tab", "wall", "holds"),
    [(89.6, 90, False), (90.4, 90, True), (90, 89.6, True), (90, 90.4, False)],
)
def test_the_side_of_glue_is_asked_where_the_glue_is(
    side: str, tab: float, wall: float, holds: bool
) -> None:
    """A tab folded 0.4 degrees too far stands 12 sin 0.4 = 0.08 mm inside of its wall at the far
    end, folded too little as much outside; so does one in a wall that leans, 20 mm high. On
    which side of the corner the frame of its piece begins is nothing to it."""
    corner = TABBED.replace("{front}", "90").replace("{wall}", f"{wall}").replace("{side}", side)
    *_, found = assembled(corner.replace("{tab}", f"{tab}").replace("{walls}", "each wall"))
    assert ("tab-misses" not in found) is holds


@pytest.mark.parametrize(("face", "height"), [("front", 0.4), ("back", -0.1)])
def test_a_face_can_be_said_of_what_it_is_glued_to(face: str, height: float) -> None:
    """On a card of 0.4 mm, or behind it a paper of 0.1 mm."""
    said = f"""
```piece card, in card
outline  rectangle, 100 x 60 mm
```

```piece label, in paper
outline  rectangle, 40 x 30 mm
```

```step
glue     label to {face} face of card
```
"""
    _, story = told_by(said)
    card, label = story.end.bodies
    assert card.pose.inverse().after(label.pose).shift[2] == pytest.approx(height)
