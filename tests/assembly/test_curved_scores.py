"""Flaps along curved scores, and the panels that bend with them."""

from __future__ import annotations

import math

import pytest

from publisher.assembly import FoldMotion, State
from publisher.assembly.creased import bent_panels
from publisher.assembly.creases import creased
from publisher.geometry.measure import area
from publisher.geometry.space import Vector
from publisher.model.hinges import loop_residual
from publisher.model.types import Piece
from publisher.pipeline import Outcome
from tests.compiled import codes, compile_text, numbers

PILLOW = """
```sizes
wide = 80 mm
rise = {rise}
```

```piece box, in card
panels   down, 140 mm wide, mountain: front = wide, back = wide
tab      on bottom of back, 12 mm deep, 3 mm taper, mountain, meets top of front, called seam
join     path, from bottom left of front to top left of front by rise
join     path, from top right of front to bottom right of front by rise
join     path, from bottom left of back to top left of back by rise
join     path, from top right of back to bottom right of back by rise
score    from bottom left of front to top left of front by -rise, mountain, called left front end
score    from top right of front to bottom right of front by -rise, mountain, called right front end
score    from bottom left of back to top left of back by -rise, mountain, called left back end
score    from top right of back to bottom right of back by -rise, mountain, called right back end
```

```step
score    box
turn     over box
fold     back of box
fold     seam of box
glue     seam of box
```

```step
fold     each end of box{how}
```
"""


def pillow(rise: str = "15 mm", how: str = "") -> Outcome:
    return compile_text(PILLOW.format(rise=rise, how=how))


def corners(piece: Piece, state: State, part: str) -> list[Vector]:
    """Corners of all strips of a part, in the world."""
    body = state.body("box-1")
    found = []
    for facet in piece.facets:
        if facet.name.rpartition(" strip ")[0] == part:
            pose = body.facet_pose(facet.name)
            found += [
                pose.apply((s.start[0], -s.start[1], 0.0)) for s in facet.region.outer.segments
            ]
    return found


def handled(outcome: Outcome) -> tuple[Piece, State]:
    assert outcome.story is not None
    assert outcome.story.handled is not None
    return outcome.story.handled.piece("box"), outcome.story.end


def test_a_pillow_closes_round_and_at_its_ends() -> None:
    outcome = pillow()
    assert codes(outcome) == []
    piece, end = handled(outcome)
    assert loop_residual(piece, dict(end.body("box-1").angles)) < 1e-9
    assert outcome.story is not None
    assert outcome.story.frames[-1].residual_mm < 1e-6
    points = corners(piece, end, "front") + corners(piece, end, "back")
    # An arc that stands off by 15 in a plane at 45 degrees: each half is 15 high in the middle,
    # less what the chords of the middle strip cut off.
    z = [p[2] for p in points]
    assert max(z) - min(z) == pytest.approx(30.0, abs=0.1)
    # Across: the integral of sqrt(1 - x'^2) over 80, x' = u / sqrt(r^2 - u^2), r = 60.8333:
    # the distance from side fold to side fold, by Simpson's rule.
    radius = (40.0**2 + 15.0**2) / 30.0
    steps = 2000
    values = [
        math.sqrt(1.0 - u * u / (radius * radius - u * u))
        for u in (-40.0 + 80.0 * i / steps for i in range(steps + 1))
    ]
    weights = [1 if i in (0, steps) else 4 if i % 2 else 2 for i in range(steps + 1)]
    across = sum(w * v for w, v in zip(weights, values, strict=True)) * 80.0 / steps / 3.0
    y = [p[1] for p in points]
    assert max(y) - min(y) == pytest.approx(across, abs=0.15)
    assert sum(area(f.region) for f in piece.facets) == pytest.approx(
        sum(area(f.region) for f in outcome.pattern.piece("box").facets)  # type: ignore[union-attr]
    )


def test_the_flaps_stand_upright_and_reach_from_curve_to_curve() -> None:
    piece, end = handled(pillow())
    for part in ("left front end", "left back end"):
        body = end.body("box-1")
        names = [f.name for f in piece.facets if f.name.startswith(f"{part} strip")]
        assert max(abs(body.facet_pose(n).normal[2]) for n in names) < 1e-9
    one = {tuple(round(v, 6) for v in p) for p in corners(piece, end, "left front end")}
    two = {tuple(round(v, 6) for v in p) for p in corners(piece, end, "left back end")}
    # Both flaps cover one and the same surface: nearly all corners of one are corners of the
    # other (the outer edges are arcs, whose corners lie within a strip's height of them).
    assert len(one & two) > len(one) / 2


def test_what_is_folded_later_lies_outside() -> None:
    _, end = handled(pillow())
    sides = {
        (a[1].rpartition(" strip ")[0], b[1].rpartition(" strip ")[0], side)
        for a, b, side in end.above
        if "end" in a[1] and "end" in b[1]
    }
    assert sides
    for lower, upper, side in sides:
        outer = upper if side > 0 else lower
        assert outer.endswith("back end"), (lower, upper, side)


def test_by_less_the_panel_stands_lower() -> None:
    """Folded by 60 degrees the plane of the curve leans by 30: 15 * tan 30 high."""
    outcome = compile_text(
        PILLOW.format(rise="15 mm", how=" by 60 degrees").replace(
            "fold     each end", "fold  each end"
        )
    )
    piece, end = handled(outcome)
    z = [p[2] for p in corners(piece, end, "front") + corners(piece, end, "back")]
    assert max(z) - min(z) == pytest.approx(30.0 * math.tan(math.radians(30.0)), abs=0.1)


def test_too_deep_a_curve_is_told_with_the_deepest_that_goes() -> None:
    """At 45 degrees an arc may be as steep as across: sagitta at most 40 tan(22.5)."""
    outcome = pillow("20 mm")
    assert "curve-too-deep" in codes(outcome)
    told = numbers(outcome, "curve-too-deep")
    assert told["steepest"] == pytest.approx(4.0 / 3.0)
    assert told["rise_mm"] == pytest.approx(40.0 * math.tan(math.radians(22.5)))
    assert codes(pillow("16.5 mm")) == []


def test_only_creases_are_lines() -> None:
    piece = compile_text(PILLOW.format(rise="15 mm", how="")).pattern.piece("box")  # type: ignore[union-attr]
    made = creased(piece)
    bent = bent_panels(piece)
    assert set(bent) == {"front", "back", "seam"}
    assert [c.score for c in bent["front"].curves] == ["left front end", "right front end"]
    drawn = {f.part_of or f.name for f in made.folds if not f.smooth}
    ends = {"left front end", "right front end", "left back end", "right back end"}
    assert drawn == {"back", "seam", *ends}


def test_the_picture_tells_the_flaps_and_not_the_strips() -> None:
    outcome = pillow()
    assert outcome.story is not None
    motion = outcome.story.frames[-1].motions[0]
    assert isinstance(motion, FoldMotion)
    assert len(motion.shown) == 4
    assert len(motion.folds) > 100
    assert all("end" in name for name in motion.moving)
