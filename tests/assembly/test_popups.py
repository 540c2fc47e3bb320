"""Pop-ups step by step: what follows, what is pushed out, what lies on what when closed."""

from __future__ import annotations

import itertools

import pytest
from msgspec.structs import replace

from publisher.assembly import FoldMotion, Story, assemble
from publisher.geometry.space import lift
from publisher.model.types import Pattern
from tests.assembly.build import do, folds, panels, part, pattern, strip
from tests.folding.popup import one_step, two_steps

LARGE = ("head", "nose", "foot")
SMALL = ("small head", "small nose", "small foot")
HALF = do("fold", *folds("page", "lower"), by=90.0)
CLOSE = do("close", part("page"))


def told(made: Pattern) -> Story:
    story, findings = assemble(made)
    assert findings == []
    return story


def angles(story: Story, frame: int) -> dict[str, float]:
    return dict(story.frames[frame].after.body("page-1").angles)


def test_the_steps_hang_back_until_they_are_pushed_out() -> None:
    pushes = [do("push", *folds("page", *LARGE)), do("push", *folds("page", *SMALL))]
    story = told(pattern([two_steps()], HALF, *pushes, CLOSE))
    back, large, small, closed = (angles(story, i) for i in range(4))
    assert back["nose"] == pytest.approx(-90.0)
    # Whatever hangs on the large step goes with its foot, 28.0725 degrees back.
    assert back["small nose"] == pytest.approx(-28.0725, abs=1e-4)
    assert [large[name] for name in LARGE] == pytest.approx([90.0] * 3)
    assert large["small nose"] == pytest.approx(-90.0)
    assert [small[name] for name in SMALL] == pytest.approx([90.0] * 3)
    assert set(closed.values()) == {180.0}


def test_without_a_push_the_steps_come_out_with_the_fold() -> None:
    story = told(pattern([two_steps()], HALF))
    assert set(angles(story, 0).values()) == {90.0}


def test_the_half_that_is_named_moves_and_the_step_with_it() -> None:
    story = told(pattern([one_step()], HALF))
    (motion,) = story.frames[0].motions
    assert isinstance(motion, FoldMotion)
    assert motion.moving == ("tread", "front", "lower")
    assert [name for name, _, _ in motion.folds] == ["lower", "head", "nose", "foot"]


def test_where_the_nose_of_the_step_stands() -> None:
    """Half open, the nose is 50 from one half (y) and 30 from the other (z)."""
    story = told(pattern([one_step()], HALF))
    body = story.end.body("page-1")
    gutter = body.facet_pose("upper").apply(lift((0.0, 105.0)))
    nose = body.facet_pose("tread").apply(lift((49.0, 85.0)))
    away = [n - g for n, g in zip(nose, gutter, strict=True)]
    # The upper half lies flat, the lower stands up: the nose is 50 up the paper, 30 over it.
    assert away == pytest.approx([49.0, 50.0, 30.0], abs=1e-9)


def test_closed_every_layer_has_its_place() -> None:
    story = told(pattern([one_step()], CLOSE))
    order = {(low[1], high[1]): side for low, high, side in story.end.above}
    # The lower half lies on the table, its front up; then the step's front, with its front
    # face down on that; the tread with its front face up; the upper half over all.
    rests = story.end.body("page-1").facet_pose("lower").normal[2] > 0
    stack = ["lower", "front", "tread", "upper"] if rests else ["upper", "tread", "front", "lower"]
    assert set(order) == {
        pair for pair in itertools.combinations(stack, 2) if set(pair) != {"lower", "tread"}
    } | ({(stack[0], stack[2])} if rests else {(stack[1], stack[3])})
    assert story.frames[0].residual_mm < 1e-9


def test_open_again_it_is_flat() -> None:
    story = told(pattern([two_steps()], CLOSE, do("open", part("page"))))
    assert set(angles(story, 1).values()) == {0.0}


def test_a_push_of_flat_paper_folds_the_page() -> None:
    story = told(pattern([one_step()], do("push", *folds("page", *LARGE))))
    # Half the way of each: the gutter follows.
    assert angles(story, 0)["lower"] == pytest.approx(90.0)


def test_a_card_glued_on_its_cover_closes_with_it() -> None:
    """The page lies on the cover, a caliper over it: as the cover closes the page follows, and
    the step stands up between."""
    cover = strip("cover", [105.0, 105.0], 148.0, "v")
    page = strip("inside", [105.0, 105.0], 148.0, "v")
    glue = do("glue", part("inside"), to="to", objects=(part("cover"),))
    made = pattern([cover, page], glue, do("close", part("cover")))
    story, findings = assemble(made)
    assert findings == []
    body = story.end.body("inside-1")
    assert dict(body.angles) == {"b": pytest.approx(180.0)}


def test_glue_across_a_fold_holds_it() -> None:
    """A patch without a fold over a fold: it cannot turn any more."""
    base = strip("base", [60.0, 60.0], 80.0)
    patch = strip("patch", [100.0], 60.0)
    stick = do("glue", part("patch"), to="to", objects=(part("base"),))
    both = (
        do("tape", *panels("base", "b"), to="to", objects=(part("patch"),)),
        do("fold", *folds("base", "b")),
    )
    _, findings = assemble(pattern([base, patch], stick, *both))
    assert [d.code for d in findings] == ["glued-parts-move"]


def test_paper_through_paper_is_told_with_its_depth() -> None:
    """Panels 40, 40, 30, 60, each at 90 degrees: the last goes 10 in from the first one's end,
    20 through it."""
    made = strip("strip", [40, 40, 30, 60], 50, closing=90.0)
    _, findings = assemble(pattern([made], do("fold", part("strip"))))
    (said,) = findings
    assert said.code == "papers-collide"
    assert dict(said.numbers)["depth_mm"] == pytest.approx(10.0)
    _, fine = assemble(pattern([strip("strip", [40, 40, 30, 39], 50, closing=90.0)], CLOSED))
    assert fine == []


CLOSED = do("fold", part("strip"))


def test_calipers_explain_a_little() -> None:
    """Paper of 0.4: two of them and 0.05 may be the thickness; more may not."""
    within = strip("strip", [40, 40, 30, 40.8], 50, closing=90.0)
    beyond = strip("strip", [40, 40, 30, 40.9], 50, closing=90.0)
    assert within.stock.caliper_mm == 0.4
    assert assemble(pattern([within], CLOSED))[1] == []
    assert [d.code for d in assemble(pattern([beyond], CLOSED))[1]] == ["papers-collide"]


def test_each_pair_of_pieces_is_told_once() -> None:
    made = strip("strip", [40, 40, 30, 60], 50, closing=90.0)
    turn = do("turn", part("strip"), to="over")
    more = do("fold", *folds("strip", "d"), by=80.0)
    _, findings = assemble(pattern([made], CLOSED, turn, more))
    assert [d.code for d in findings] == ["papers-collide"]


def test_a_stiffer_paper_explains_more() -> None:
    made = strip("strip", [40, 40, 30, 40.9], 50, closing=90.0)
    thick = replace(made, stock=replace(made.stock, caliper_mm=0.5))
    assert assemble(pattern([thick], CLOSED))[1] == []
