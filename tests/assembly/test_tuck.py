"""Cards under tongues, flaps behind walls, and what is pulled out again."""

from __future__ import annotations

import math

import pytest

from publisher.assembly import MoveMotion, State
from publisher.assembly.tongues import foot_name, tongue_of
from publisher.geometry.measure import area
from publisher.geometry.space import Vector, lift
from publisher.model.types import Piece
from tests.compiled import codes, compile_text, numbers

CARRIER = """
```piece carrier, in card
outline  rectangle, 110 x 80 mm
slit     half round, 40 mm wide, facing top, at 14 mm above middle of bottom, called tongue
```

```piece token, in card
outline  rectangle, 85 x 54 mm
```
"""

BOX = """
```piece box, in card
panel    base, 60 x 40 mm
panel    front wall, on bottom of base, 25 mm deep, mountain by 90 degrees
panel    back wall, on top of base, 25 mm deep, mountain by 90 degrees
panel    left wall, on left of base, 25 mm deep, mountain by 90 degrees
panel    right wall, on right of base, 25 mm deep, mountain by 90 degrees
panel    cover, on top of back wall, {deep} deep, mountain by 90 degrees
panel    flap, on top of cover, 15 mm deep, {wide} wide, mountain by 90 degrees
```

```step
score    box
turn     over box
fold     each wall of box
tuck     flap of box behind front wall
```
"""


def step(*lines: str) -> str:
    return "\n```step\n" + "\n".join(lines) + "\n```\n"


def corner(piece: Piece, state: State, at: tuple[float, float]) -> Vector:
    return dict(state.body(f"{piece.name}-1").facets)[piece.name].apply(lift(at))


def test_a_card_goes_under_a_tongue_as_far_as_its_foot() -> None:
    outcome = compile_text(CARRIER + step("lay carrier", "tuck token under tongue of carrier"))
    assert codes(outcome) == []
    assert outcome.story is not None
    assert outcome.pattern is not None
    carrier, token = (outcome.pattern.piece(n) for n in ("carrier", "token"))
    end = outcome.story.end
    # The foot runs 14 above the bottom of a carrier 80 high, from 35 to 75 of its 110; the
    # token is 85 x 54: its lower edge lies on the foot, its middle over the middle.
    base = dict(end.body("carrier-1").facets)["carrier"]
    wanted = [base.apply(lift(p)) for p in ((12.5, 12.0), (97.5, 66.0))]
    found = [corner(token, end, p) for p in ((0.0, 0.0), (85.0, 54.0))]
    assert [math.dist(a, b) for a, b in zip(wanted, found, strict=True)] == pytest.approx([0, 0])
    assert len(end.bonds) == 1
    order = [(low[1], up[1], side) for low, up, side in end.above]
    assert order == [("carrier", "token", 1), ("token", "tongue", 1)]
    tongue = tongue_of(carrier.openings[0])
    assert tongue is not None
    assert (tongue.foot, tongue.out) == ((55.0, 66.0), (0.0, -1.0))
    assert tongue.depth_mm == pytest.approx(20.0, abs=0.05)


def test_the_tongue_is_paper_of_the_carrier() -> None:
    outcome = compile_text(CARRIER + step("tuck token under tongue of carrier"))
    assert outcome.story is not None
    assert outcome.story.handled is not None
    made = outcome.story.handled.piece("carrier")
    areas = {f.name: area(f.region) for f in made.facets}
    assert areas["tongue"] == pytest.approx(math.pi * 200.0)
    assert sum(areas.values()) == pytest.approx(8800.0)
    (hinge,) = made.hinges
    assert (hinge.parent, hinge.child, hinge.fold) == ("carrier", "tongue", foot_name("tongue"))
    assert made.fold(hinge.fold).smooth
    assert outcome.story.smooth == (("carrier", "foot of tongue"),)
    # It is lifted as the card comes, and down again when the card is in.
    frame = outcome.story.frames[0]
    assert dict(frame.before.body("carrier-1").angles)["foot of tongue"] > 10.0
    assert dict(frame.after.body("carrier-1").angles)["foot of tongue"] == 0.0


def test_between_two_tongues_it_must_fit() -> None:
    """Feet 28 and 66 down: 38 free, and 54 wanted."""
    second = "slit half round, 30 mm wide, facing bottom, at 28 mm below middle of top, called head"
    body = CARRIER.replace("called tongue\n", f"called tongue\n{second}\n")
    outcome = compile_text(body + step("tuck token under head and tongue of carrier"))
    assert codes(outcome) == ["no-way-in"]
    assert numbers(outcome, "no-way-in")["missing_mm"] == pytest.approx(16.0)


def test_pulled_part_of_the_way_it_still_holds() -> None:
    lines = ("tuck token under tongue of carrier", "pull token by 10 mm", "pull token")
    outcome = compile_text(CARRIER + step(*lines))
    assert codes(outcome) == []
    assert outcome.story is not None
    tucked, part, out = (f.after for f in outcome.story.frames)
    assert [len(s.bonds) for s in (tucked, part, out)] == [1, 1, 0]
    y = [s.body("token-1").pose.shift[1] for s in (tucked, part, out)]
    assert y[1] - y[0] == pytest.approx(10.0)
    assert y[2] - y[1] == pytest.approx(64.0)  # its own length and 10 mm to see
    assert ("token", "tongue", 1) in [(a[1], b[1], side) for a, b, side in part.above]
    motion = outcome.story.frames[1].motions[0]
    assert isinstance(motion, MoveMotion)
    assert motion.manner == "pull"
    assert motion.path == ((0.0, -10.0, 0.0), (0.0, 0.0, 0.0))


def test_a_flap_lies_within_the_wall() -> None:
    outcome = compile_text(BOX.format(deep="40 mm", wide="58 mm"))
    assert codes(outcome) == []
    assert outcome.story is not None
    end = outcome.story.end
    assert [(b.first[1], b.second[1], b.by) for b in end.bonds] == [("flap", "front wall", "tuck")]
    (pair,) = [a for a in end.above if {a[0][1], a[1][1]} == {"flap", "front wall"}]
    # The flap lies on the wall's back face, which is the inside, its own front face to it.
    lower = pair[0][1]
    assert pair[2] == {"front wall": -1, "flap": 1}[lower]
    motion = outcome.story.frames[-1].motions[0]
    assert [name for name, _, _ in motion.folds] == ["flap", "cover"]  # type: ignore[union-attr]


def test_a_cover_that_is_too_short_leaves_the_flap_away() -> None:
    outcome = compile_text(BOX.format(deep="38 mm", wide="58 mm"))
    assert codes(outcome) == ["tuck-misses"]
    assert numbers(outcome, "tuck-misses")["away_mm"] == pytest.approx(2.0)
