"""Between two papers that hold to each other: the room, the way in, the layers."""

from __future__ import annotations

import math

import pytest
from msgspec.structs import replace

from publisher.assembly import MoveMotion, Story, assemble
from publisher.geometry.measure import outline_bounds
from publisher.model.types import Action, Edge, Panel, Pattern, Piece, Target
from tests.assembly.build import do, folds, panels, part, pattern, strip, zone
from tests.assembly.test_contents import thing
from tests.compiled import told_by

SIDES = ("top", "right", "bottom", "left")


def wallet(glue: float = 5.0) -> Piece:
    """Back 95 and pocket 65 wide, 140 high, the pocket folded onto the back by a mountain fold
    and glued along its top and bottom."""
    plain = strip("wallet", [95.0, 65.0], 140.0)
    zones = (
        zone("wallet", "b", (95.0, 0.0, 160.0, glue), "back", "strip 1"),
        zone("wallet", "b", (95.0, 140.0 - glue, 160.0, 140.0), "back", "strip 2"),
    )
    return replace(plain, panels=tuple(map(with_edges, plain.panels)), glue_zones=zones)


def with_edges(panel: Panel) -> Panel:
    ring = panel.ring
    edges = tuple(Edge(n, ring[i], ring[(i + 1) % 4]) for i, n in enumerate(SIDES))
    return replace(panel, edges=edges)


def steps(content: Target) -> tuple[Action, ...]:
    return (
        do("turn", part("wallet"), to="over"),
        do("fold", *folds("wallet", "b")),
        do("glue", part("wallet", "strip 1", "glue"), part("wallet", "strip 2", "glue")),
        do("slide", content, to="into", objects=panels("wallet", "b")),
    )


def made(*size: float, glue: float = 5.0) -> Pattern:
    return pattern([wallet(glue)], *steps(thing("plan", *size)))


def told(one: Pattern) -> Story:
    story, findings = assemble(one)
    assert findings == []
    return story


def test_it_lies_between_both_papers() -> None:
    story = told(made(80, 120, 2))
    order = {(low, high) for low, high, _ in story.end.above}
    back, front, plan = ("wallet-1", "a"), ("wallet-1", "b"), ("plan-1", "plan")
    assert (back, plan) in order
    assert (plan, front) in order


def test_it_goes_in_to_the_closed_side() -> None:
    """The fold closes the pocket's side; 2 of paper take 1 of it, as a round end does."""
    story = told(made(80, 120, 2))
    wallet_, plan = story.end.body("wallet-1"), story.end.body("plan-1")
    into = wallet_.facet_pose("b").inverse().after(plan.facet_pose("plan"))
    corners = [into.apply((x, -y, 0.0)) for x in (0.0, 80.0) for y in (0.0, 120.0)]
    xs, ys = [c[0] for c in corners], [-c[1] for c in corners]
    # The pocket reaches from x 95 (fold) to 160: the plan, 80 deep, from 96 to 176.
    assert (min(xs), max(xs)) == pytest.approx((96.0, 176.0))
    # 120 across, in the middle of 140.
    assert (min(ys), max(ys)) == pytest.approx((10.0, 130.0))


def test_it_comes_in_from_the_open_side() -> None:
    story = told(made(80, 120, 2))
    motion = story.frames[3].motions[-1]
    assert isinstance(motion, MoveMotion)
    pocket = story.end.body("wallet-1").facet_pose("b")
    out = pocket.turn((1.0, 0.0, 0.0))
    far = motion.path[-2]
    # 80 of plan, 65 of pocket and 10 beyond; held 3 over the paper that it goes behind.
    along = sum(a * b for a, b in zip(far, out, strict=True))
    assert along == pytest.approx(155.0, abs=1e-9)
    assert math.dist(far, tuple(along * v for v in out)) == pytest.approx(3.0, abs=1e-9)


@pytest.mark.parametrize(("across", "missing"), [(128.0, 0.0), (128.04, 0.0), (129.0, 1.0)])
def test_what_is_too_wide_has_no_way_in(across: float, missing: float) -> None:
    """140 less two glue lines of 5 is 130; 2 of thickness take 2 more of it."""
    story, findings = assemble(made(118.0, across, 2))
    # Both ways round are tried: 118 across would go in as well, and 128 stand out.
    if missing:
        wide, more = assemble(made(across, 129.0, 2))
        assert [d.code for d in more] == ["no-way-in"]
        assert dict(more[0].numbers)["missing_mm"] == pytest.approx(missing)
        assert wide.frames[3].residual_mm == pytest.approx(missing)
    else:
        assert findings == []
        assert story.frames[3].residual_mm < 0.05


def test_where_nothing_is_glued_there_is_no_pocket() -> None:
    loose = (*steps(thing("plan", 80, 120, 2))[:2], steps(thing("plan", 80, 120, 2))[3])
    # The fold closes one side only; three are open.
    _, findings = assemble(pattern([wallet()], *loose))
    assert [d.code for d in findings] == ["not-yet"]


def test_it_goes_along_when_the_wallet_moves() -> None:
    over = do("turn", part("wallet"), to="over")
    one = pattern([wallet()], *steps(thing("plan", 80, 120, 2)), over)
    story = told(one)
    before, after = story.frames[3].after, story.end
    for body in ("wallet-1", "plan-1"):
        assert before.body(body).pose != after.body(body).pose
    held = [s.body("wallet-1").pose.inverse().after(s.body("plan-1").pose) for s in (before, after)]
    assert held[0].shift == pytest.approx(held[1].shift, abs=1e-9)


ENVELOPE = """
```sizes
card = 148 x 105 x 1 mm
```

```piece envelope, in paper
panel  centre, 154 x 111 mm
panel  left side, on left of centre, 18 mm deep, mountain
panel  right side, on right of centre, 18 mm deep, mountain
panel  lower flap, on bottom of centre, 67 mm deep, 1 mm taper, mountain
glue   along left and right of lower flap, 10 mm wide, on back face,
       meets left side and right side, called strip
```

```step
turn   over envelope
fold   each side of envelope
glue   each strip of envelope
fold   lower flap of envelope
slide  card into {there}
```
"""


@pytest.mark.parametrize("there", ["envelope", "lower flap of envelope"])
def test_flaps_that_are_folded_in_behind_a_pocket_are_its_walls(there: str) -> None:
    """The sides hold the flap, so that the card has all the room from fold to fold; it lies
    under them, not in front of their glue."""
    made, story = told_by(ENVELOPE.replace("{there}", there))
    card = story.end.body("card-1").facets[0][1]
    centre = story.end.body("envelope-1").facet_pose("centre")
    shapes = {f.name: f.region for p in (story.handled or made).pieces for f in p.facets}
    left, _, right, _ = outline_bounds(shapes[story.end.body("card-1").facets[0][0]].outer)
    ends = [centre.inverse().after(card).apply((x, 0.0, 0.0))[0] for x in (left, right)]
    assert sorted(round(x - 18.0, 6) for x in ends) == [3.0, 151.0]
    order = {(low, high) for low, high, _ in story.end.above}
    facet = ("card-1", story.end.body("card-1").facets[0][0])
    assert (("envelope-1", "centre"), facet) in order
    for name in ("left side", "right side", "lower flap"):
        assert (facet, ("envelope-1", name)) in order
