"""Folds that follow others: vertices, pop-ups, what cannot close."""

from __future__ import annotations

import math

import pytest

from publisher.folding.follow import Followed, follow
from publisher.folding.linkage import Key, Linkage, closing_gap, linkage, links_of, weld
from publisher.folding.newton import CLOSED_MM
from publisher.geometry.space import Pose, lift, moved
from publisher.model.types import Piece
from tests.assembly.build import strip
from tests.folding.popup import one_step, two_steps
from tests.outside.test_solids import vertex_piece

ONE = 1


def whole(piece: Piece) -> Linkage:
    return linkage(links_of(piece), ("", piece.facets[0].name))


def scored(piece: Piece) -> dict[Key, int]:
    return {("", f.name): ONE for f in piece.folds}


def driven(**angles: float) -> dict[Key, float]:
    return {("", name.replace("_", " ")): a for name, a in angles.items()}


def turn(piece: Piece, now: dict[Key, float] | None = None, **angles: float) -> Followed:
    return follow(whole(piece), now or {}, driven(**angles), scored(piece))


def told(found: Followed) -> dict[str, float]:
    return {fold: angle for (_, fold), angle in found.angles.items()}


# ---------------------------------------------------------------- trees


def test_a_strip_has_no_loops() -> None:
    made = whole(strip("strip", [40, 30, 20], 50))
    assert made.loops == ()
    assert [link.second[1] for link in made.tree] == ["b", "c"]
    poses = made.poses({("", "b"): 90.0})
    # Mountain: b hangs down from x = 40.
    assert poses["", "b"].apply(lift((70, 0))) == pytest.approx((40.0, 0.0, -30.0))


def test_two_stretches_of_one_fold_between_the_same_facets_are_no_loop() -> None:
    # The card has 4 facets in a ring; its gutter runs in two stretches.
    assert len(whole(one_step()).loops) == 1
    assert len(whole(two_steps()).loops) == 2


def test_a_link_seen_from_its_other_end_is_the_same_motion() -> None:
    link = links_of(strip("strip", [40, 30], 50))[0]
    there = link.carry({("", "b"): 33.0})
    back = link.turned_round().carry({("", "b"): 33.0})
    both = there.after(back)
    assert both.shift == pytest.approx((0, 0, 0), abs=1e-12)
    assert both.normal == pytest.approx((0, 0, 1), abs=1e-12)


# ---------------------------------------------------------------- closing


@pytest.mark.parametrize("gutter", [1.0, 45.0, 90.0, 137.0, 179.0, 180.0])
def test_a_step_of_a_card_stands_as_far_as_the_card_is_folded(gutter: float) -> None:
    """Slits and folds make a parallelogram: every fold of the step has the gutter's angle."""
    found = turn(one_step(), lower=gutter)
    assert found.closes
    assert found.against == ()
    assert found.gap_mm < CLOSED_MM
    assert told(found) == pytest.approx(dict.fromkeys(told(found), gutter), abs=1e-7)


def test_a_step_that_is_not_pushed_hangs_back() -> None:
    """The other way in which four bars close. With the gutter G at 90 degrees, the head H 50
    from it and the foot F 30: the step's nose is mirrored on the line through H and F. The
    angle at H is 2 * atan(50 / 30) - 90 = 28.0725 degrees."""
    piece = one_step()
    senses = {("", "head"): 0, ("", "foot"): 0, ("", "nose"): -1}
    found = follow(whole(piece), {}, driven(lower=90.0), senses)
    back = 2.0 * math.degrees(math.atan2(50.0, 30.0)) - 90.0
    wanted = {"lower": 90.0, "head": -back, "nose": -90.0, "foot": back}
    assert told(found) == pytest.approx(wanted, abs=1e-7)
    pushed = follow(whole(piece), found.angles, driven(lower=90.0), scored(piece))
    assert told(pushed) == pytest.approx(dict.fromkeys(wanted, 90.0), abs=1e-7)


def test_a_step_on_a_step_follows_as_well() -> None:
    found = turn(two_steps(), lower=70.0)
    assert told(found) == pytest.approx(dict.fromkeys(told(found), 70.0), abs=1e-7)


def test_flat_paper_is_folded_exactly() -> None:
    found = turn(two_steps(), lower=180.0)
    assert set(told(found).values()) == {180.0}
    assert set(told(turn(two_steps(), dict(found.angles), lower=0.0)).values()) == {0.0}


def test_what_need_not_move_stays() -> None:
    """Four folds crosswise: the two in one line fold in half, the others stay exactly flat."""
    piece = vertex_piece((90.0, 90.0, 90.0, 90.0), "vvmv")
    found = follow(
        whole(piece), {}, driven(fold_1=180.0), {("", f"fold {i}"): 0 for i in range(1, 5)}
    )
    assert {k: abs(a) for k, a in told(found).items()} == pytest.approx(
        {"fold 1": 180.0, "fold 2": 0.0, "fold 3": 180.0, "fold 4": 0.0}, abs=1e-9
    )


def test_folds_that_cannot_all_hold_are_named() -> None:
    piece = vertex_piece((60.0, 60.0, 120.0, 120.0), "mvmm")
    found = turn(piece, fold_1=90.0, fold_2=90.0, fold_3=10.0)
    assert not found.closes
    assert [fold for _, fold in found.stuck] == ["fold 1", "fold 2", "fold 3"]
    assert found.gap_mm > 1.0


def test_a_fold_that_must_go_against_its_score_is_named() -> None:
    # Big-little-big: with these bends the vertex cannot fold; it closes the other way only.
    piece = vertex_piece((50.0, 70.0, 130.0, 110.0), "mmmv")
    found = turn(piece, fold_1=90.0)
    assert found.closes
    assert found.against


def test_held_folds_keep_their_angles() -> None:
    piece = vertex_piece((60.0, 60.0, 120.0, 120.0), "mvmm")
    at_90 = turn(piece, fold_1=90.0)
    found = follow(whole(piece), at_90.angles, driven(fold_1=80.0), scored(piece), [("", "fold 3")])
    assert [fold for _, fold in found.stuck] == ["fold 1", "fold 3"]


def test_papers_that_hold_to_each_other_fold_together() -> None:
    """Two strips glued on each other on both sides of a fold, 0.4 apart: as the loop sees them
    they lie in one plane, so that both folds turn about one line."""
    first, second = strip("one", [40, 40], 50), strip("two", [40, 40], 50)
    apart = moved((0.0, 0.0, 0.4))
    links = [*links_of(first, "one-1"), *links_of(second, "two-1")]
    links += [weld(("one-1", name), ("two-1", name), apart, Pose()) for name in ("a", "b")]
    made = linkage(links, ("one-1", "a"))
    assert len(made.loops) == 1
    senses = {("one-1", "b"): 1, ("two-1", "b"): 1}
    found = follow(made, {}, {("one-1", "b"): 120.0}, senses)
    assert found.angles["two-1", "b"] == pytest.approx(120.0, abs=1e-9)
    # Without that they turn about two lines, and cannot.
    stiff = [weld(("one-1", n), ("two-1", n), apart) for n in ("a", "b")]
    rigid = linkage([*links[:2], *stiff], ("one-1", "a"))
    assert not follow(rigid, {}, {("one-1", "b"): 120.0}, senses).closes


def test_the_gap_is_a_length() -> None:
    loops = whole(one_step()).loops
    folded = dict.fromkeys(scored(one_step()), 90.0)
    assert closing_gap(loops, folded) < 1e-12
    off = folded | {("", "nose"): 91.0}
    # One degree on an arm of some 50 to 110 mm.
    assert 0.5 < closing_gap(loops, off) < 2.5
