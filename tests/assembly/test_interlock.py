"""Half-lap slots: two papers cross, with figures by hand."""

from __future__ import annotations

import pytest
from msgspec.structs import replace

from publisher.assembly import MoveMotion, State, Story, assemble
from publisher.assembly.bodies import box
from publisher.assembly.kit import kit_of
from publisher.geometry.path import Line, Path, Region, polygon
from publisher.geometry.space import Vector, dot
from publisher.model.types import Action, Edge, Facet, Opening, Panel, Pattern, Piece, Target
from tests.assembly.build import HERE, do, part, pattern, sheet, tray


def divider(
    width: float = 79.0, height: float = 35.0, deep: float = 17.7, wide: float = 0.6
) -> Piece:
    """A rectangle with a square slot in the middle of its top edge."""
    plain = sheet("divider", width, height)
    corners = ((0.0, 0.0), (width, 0.0), (width, height), (0.0, height))
    names = ("top", "right", "bottom", "left")
    edges = tuple(Edge(n, corners[i], corners[(i + 1) % 4]) for i, n in enumerate(names))
    panel = Panel("divider", "panel", corners, edges, HERE)
    x0, x1 = (width - wide) / 2, (width + wide) / 2
    ring = polygon(((x0, 0.0), (x1, 0.0), (x1, deep), (x0, deep)))
    slot = Opening("slot", "notch", "square", ring, "divider", wide, deep, HERE)
    cut = Region(
        polygon(
            (
                *((0.0, 0.0), (x0, 0.0), (x0, deep), (x1, deep), (x1, 0.0), (width, 0.0)),
                *((width, height), (0.0, height)),
            )
        )
    )
    facet = Facet("divider", "divider", cut)
    return replace(plain, copies=2, outline=cut, facets=(facet,), panels=(panel,), openings=(slot,))


def slot(copy: int) -> Target:
    return Target("opening", "divider", part="slot", copy=copy, span=HERE)


CROSS = do("slide", slot(1), to="into", objects=(slot(2),), called="cross")


def told(made: Pattern) -> Story:
    story, findings = assemble(made)
    assert findings == []
    return story


def ends(made: Pattern, state: State, body: str) -> tuple[Vector, Vector]:
    return box(kit_of(made), [state.body(body)])


def test_crossed_the_edges_are_level() -> None:
    made = pattern([divider()], CROSS)
    state = told(made).end
    one, two = (state.body(f"divider-{i}").facet_pose("divider") for i in (1, 2))
    assert dot(one.normal, two.normal) == pytest.approx(0.0, abs=1e-12)
    for body in ("divider-1", "divider-2"):
        least, greatest = ends(made, state, body)
        # Both stand on the table, 35 high.
        assert (least[2], greatest[2]) == pytest.approx((0.0, 35.0), abs=1e-9)
    (a0, a1), (b0, b1) = ends(made, state, "divider-1"), ends(made, state, "divider-2")
    # Middle on middle.
    for i in (0, 1):
        assert a0[i] + a1[i] == pytest.approx(b0[i] + b1[i])
    assert dict(state.made) == {"cross": ("divider-1", "divider-2")}


def test_one_comes_down_on_the_other_from_clear_above() -> None:
    story = told(pattern([divider()], CROSS))
    (motion,) = story.frames[0].motions
    assert isinstance(motion, MoveMotion)
    assert motion.bodies == ("divider-1",)
    # Its mouth goes 35 down past the other's top edge, from 10 over it.
    assert motion.path[0] == pytest.approx((0.0, 0.0, 45.0))
    start = story.frames[0].before
    assert start.body("divider-2").placed
    assert start.body("divider-2").facet_pose("divider").normal == pytest.approx((0, -1, 0))


def test_slots_that_are_too_short_stand_out() -> None:
    """17 and 17 of 35: the edges stay 1 from level."""
    story, findings = assemble(pattern([divider(deep=17.0)], CROSS))
    (said,) = findings
    assert said.code == "no-way-in"
    assert dict(said.numbers)["missing_mm"] == pytest.approx(1.0)
    assert story.frames[0].residual_mm == pytest.approx(1.0)


def test_slots_that_are_just_long_enough_pass() -> None:
    told(pattern([divider(deep=17.5)], CROSS))


def test_a_slot_narrower_than_the_paper_does_not_take_it() -> None:
    """Card of 0.4 in a slot of 0.3: 0.1 is missing, both ways."""
    _, findings = assemble(pattern([divider(wide=0.3)], CROSS))
    assert [d.code for d in findings] == ["no-way-in", "no-way-in"]
    assert dict(findings[0].numbers)["missing_mm"] == pytest.approx(0.1)
    assert assemble(pattern([divider(wide=0.4)], CROSS))[1] == []


def test_a_bare_slit_opens_for_the_paper() -> None:
    piece = sheet("divider", 79.0, 35.0)
    piece = replace(piece, copies=2, panels=divider().panels)
    cut = Path((Line((39.5, 0.0), (39.5, 17.7)),), closed=False)
    slit = Opening("slot", "slit", "line", cut, "divider", 17.7, 0.0, HERE)
    told(pattern([replace(piece, openings=(slit,))], CROSS))


def test_the_cross_stands_in_its_tray() -> None:
    """79 in 80: half a millimetre free at each end. It stands on the floor."""
    box_ = tray("tray", 80.0, 80.0, 40.0)
    steps: list[Action] = [
        do("turn", part("tray"), to="over"),
        do("fold", part("tray")),
        CROSS,
        do("slide", Target("made", "cross", span=HERE), to="into", objects=(part("tray"),)),
    ]
    made = pattern([box_, divider()], *steps)
    state = told(made).end
    t0, t1 = ends(made, state, "tray-1")
    long = [ends(made, state, f"divider-{i}") for i in (1, 2)]
    for axis in (0, 1):
        free = min(d[0][axis] - t0[axis] for d in long)
        assert free == pytest.approx(0.5, abs=1e-6)
    for least, greatest in long:
        assert least[2] == pytest.approx(t0[2], abs=1e-6)
        assert greatest[2] == pytest.approx(t0[2] + 35.0, abs=1e-6)
    assert t1[2] - t0[2] == pytest.approx(40.0)
