"""Layers of paper that is folded flat: as motion says, put right, or refuted."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from publisher.assembly import assemble
from publisher.folding.flat import flat_fold
from publisher.folding.orders import stacking
from tests.assembly.build import do, folds, part, pattern, strip


@pytest.mark.parametrize(("last", "code"), [(38.0, []), (41.0, ["layers-cannot-lie"])])
def test_a_flap_that_is_too_long_cannot_be_rolled_in(last: float, code: list[str]) -> None:
    made = strip("roll", [60.0, 60.0, 40.0, last], 50.0, "mmm")
    _, findings = assemble(pattern([made], do("fold", part("roll"))))
    assert [d.code for d in findings] == code


def test_the_parts_in_each_others_way_are_named() -> None:
    made = strip("roll", [60.0, 60.0, 40.0, 70.0], 50.0, "mmm")
    _, (said,) = assemble(pattern([made], do("fold", part("roll"))))
    assert "b" in said.message.split(" at ")[1]
    assert "d" in said.message.split(" at ")[1]


def test_a_panel_is_rolled_in_where_a_plain_fold_would_pass_through_paper() -> None:
    """The middle fold first, then the first panel: it goes in between, for the last panel is
    in its way outside."""
    made = strip("strip", [30.0] * 4, 40.0, "mmm")
    steps = [do("fold", *folds("strip", name)) for name in "cbd"]
    story, findings = assemble(pattern([made], *steps))
    assert findings == []
    order = {(low[1], high[1]) for low, high, _ in story.end.above}
    over = [("b", "a") in order, ("b", "c") in order]
    # Both on one side of b, and the first panel next to it.
    assert over[0] == over[1]
    assert (("a", "c") in order) == over[0]


WIDTHS = st.lists(st.floats(20.0, 90.0), min_size=2, max_size=6)


@given(WIDTHS, st.text("mv", min_size=5, max_size=5), st.randoms(use_true_random=False))
def test_random_strips_lie_without_paper_through_paper(
    widths: list[float], bends: str, luck: object
) -> None:
    """Whatever is folded in whatever order: either the layers' order obeys every rule, runs in
    no circle, and its folds close, or it is refuted by the search over all orders as well."""
    made = strip("strip", [round(w, 1) for w in widths], 40.0, bends)
    names = [f.name for f in made.folds]
    luck.shuffle(names)  # type: ignore[attr-defined]
    story, findings = assemble(pattern([made], *(do("fold", *folds("strip", n)) for n in names)))
    flat = flat_fold(made, {f.name: 180.0 for f in made.folds})
    assert flat is not None
    codes = {d.code for d in findings}
    assert codes <= {"layers-cannot-lie"}
    if stacking(flat).verdict == "refuted":
        assert codes == {"layers-cannot-lie"}
        return
    number = {name: i for i, name in enumerate(flat.names)}
    held = {}
    for low, high, _ in story.end.above:
        i, j = number[low[1]], number[high[1]]
        held[min(i, j), max(i, j)] = 1 if i < j else -1
    if story.end.body("strip-1").facet_pose("a").normal[2] < 0:
        held = {pair: -sign for pair, sign in held.items()}
    known = {pair: sign for pair, sign in held.items() if pair in flat.pairs}
    if not codes:
        assert stacking(flat, known).verdict == "found"
