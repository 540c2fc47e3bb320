"""Bent panels on their way: paper keeps its length but where flaps snap in, and stays whole."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from publisher.assembly.creased import Bent, bent_panels
from publisher.assembly.creases import crease_name, strip_name
from publisher.assembly.flexing import Flexing, flexing
from publisher.assembly.types import Body, FoldMotion
from publisher.folding.crossing import Sheet, crossing_depth, sheet
from publisher.geometry.flatten import flattened
from publisher.geometry.space import Pose, Vector, cross, dot, lift, scaled, sub, unit
from publisher.model.folding import facet_poses
from publisher.model.hinges import loop_residual
from publisher.model.types import Piece
from tests.compiled import codes, compile_text

PILLOW = """
```sizes
wide = {wide} mm
rise = {rise} mm
```

```piece box, in card
panels   down, 140 mm wide, mountain: front = wide, back = wide
tab      on bottom of back, 12 mm deep, 12 mm taper, mountain, meets top of front, called seam
join     path, from bottom left of front to top left of front by rise
join     path, from top right of front to bottom right of front by rise
join     path, from bottom left of back to top left of back by rise
join     path, from top right of back to bottom right of back by rise
score    from bottom left of front to top left of front by -rise, mountain, called {a} front end
score    from top right of front to bottom right of front by -rise, mountain, called {b} front end
score    from bottom left of back to top left of back by -rise, mountain, called {a} back end
score    from top right of back to bottom right of back by -rise, mountain, called {b} back end
```

```step
score    box
turn     over box
fold     back of box
fold     seam of box
glue     seam of box
```
"""
FRONT = "fold     left front end and right front end of box"
BACK = "fold     left back end and right back end of box"
ALL = "fold     each end of box"
SHARES = [k / 16 for k in range(17)]


def step(*lines: str) -> str:
    return "\n```step\n" + "\n".join(lines) + "\n```\n"


def ways(
    *steps: str, wide: float = 80.0, rise: float = 14.4, left: str = "left"
) -> list[tuple[Piece, Body, Flexing]]:
    """Of each step the piece, its body before, and how it flexes. Flaps that lean by less than
    upright meet those across: that is told, and no matter here."""
    names = {"a": left, "b": "right"}
    lines = [line.replace("left", left) for line in steps]
    outcome = compile_text(PILLOW.format(wide=wide, rise=rise, **names) + "".join(map(step, lines)))
    assert set(codes(outcome)) <= ({"papers-collide"} if " by " in "".join(steps) else set())
    story = outcome.story
    assert story is not None
    assert story.handled is not None
    piece = story.handled.piece("box")
    found = []
    for frame in story.frames[-len(steps) :]:
        (motion,) = frame.motions
        assert isinstance(motion, FoldMotion)
        body = frame.before.body("box-1")
        flex = flexing(piece, dict(body.angles), motion.folds, dict(body.facets))
        assert flex is not None
        after = dict(frame.after.body("box-1").angles)
        for share, angles in ((0.0, dict(body.angles)), (1.0, after)):
            assert flex.at(share) == pytest.approx({n: angles[n] for n in flex.at(share)})
        found.append((piece, body, flex))
    return found


def posed(piece: Piece, body: Body, flex: Flexing, share: float) -> dict[str, Pose]:
    return facet_poses(piece, dict(body.angles) | flex.at(share))


def flat_corners(piece: Piece, facet: str) -> list[Vector]:
    return [lift(s.start) for s in piece.facet(facet).region.outer.segments]


def part_of(facet: str) -> str:
    return facet.rpartition(" strip ")[0]


def strips_of(piece: Piece, part: str) -> list[str]:
    return [f.name for f in piece.facets if part_of(f.name) == part]


def mirrored(plane: tuple[Vector, Vector], p: Vector) -> Vector:
    at, normal = plane
    return sub(p, scaled(normal, 2.0 * dot(sub(p, at), normal)))


def plane_of(own: Bent, poses: dict[str, Pose], score: int) -> tuple[list[Vector], Vector]:
    """Where a curve is in space, and the normal of its plane by three of its points."""
    flat = own.along(own.curves[score])
    names = [strip_name(own.panel, k) for k in range(1, len(flat))]
    points = [poses[names[max(0, k - 1)]].apply(lift(p)) for k, p in enumerate(flat)]
    middle = points[len(points) // 2]
    return points, unit(cross(sub(middle, points[0]), sub(points[-1], points[0])))


def test_a_flap_that_is_in_is_the_panels_mirror_image_at_every_moment() -> None:
    """In the plane of its curve (reflection through a plane: facts of curved folding). From 50
    degrees to 90 nothing snaps, so all paper keeps its length and every loop closes."""
    (_, (piece, body, flex)) = ways(ALL + " by 50 degrees", ALL)
    assert flex.leans_deg == pytest.approx((50.0, 90.0))
    for share in SHARES:
        poses = posed(piece, body, flex, share)
        assert loop_residual(piece, dict(body.angles) | flex.at(share)) < 1e-9
        for own in (o for o in flex.bent.values() if o.curves):
            for k, curve in enumerate(own.curves):
                points, normal = plane_of(own, poses, k)
                assert max(abs(dot(sub(p, points[0]), normal)) for p in points) < 1e-9
                for strip in strips_of(piece, curve.score):
                    panel = poses[strip_name(own.panel, int(strip.rpartition(" ")[2]))]
                    for p in flat_corners(piece, strip):
                        there = mirrored((points[0], normal), poses[strip].apply(p))
                        assert math.dist(there, panel.apply(p)) < 1e-9


@pytest.mark.parametrize("lean", [30.0, 60.0, 90.0])
def test_planes_stand_off_the_osculating_plane_as_the_curvatures_tell(lean: float) -> None:
    """cos a = kg / k: kg is 1 over the radius of the arc on paper, k that of the curve in space,
    here in its middle by three points (the formula of Heron and 4 area / abc)."""
    ((piece, body, flex),) = ways(f"{ALL} by {lean} degrees", wide=120.0, rise=12.0)
    radius = (60.0**2 + 12.0**2) / 24.0
    own = flex.bent["front"]
    points, normal = plane_of(own, posed(piece, body, flex, 1.0), 0)
    m = len(points) // 2
    a, b, c = points[m - 3], points[m], points[m + 3]
    area = math.hypot(*cross(sub(b, a), sub(c, a))) / 2.0
    k = 4.0 * area / (math.dist(a, b) * math.dist(b, c) * math.dist(c, a))
    off = abs(dot(posed(piece, body, flex, 1.0)[strip_name("front", m)].normal, normal))
    assert off == pytest.approx(1.0 / radius / k, rel=0.02)
    assert off == pytest.approx(math.cos(math.radians(lean / 2.0)), abs=1e-9)


def turns(points: list[Vector]) -> list[float]:
    """How far a run of points turns at each but its ends, radians."""
    legs = [unit(sub(b, a)) for a, b in itertools.pairwise(points)]
    return [math.acos(max(-1.0, min(1.0, dot(a, b)))) for a, b in itertools.pairwise(legs)]


def squeezed(
    piece: Piece, own: Bent, score: int, poses: dict[str, Pose]
) -> Iterator[tuple[float, float]]:
    """At each ruling of a flap: how far apart its two strips have its end, and how far they
    may: as far as the curve turns more in space than on paper, as far out as the ruling goes."""
    points, _ = plane_of(own, poses, score)
    curve = own.curves[score]
    flat = own.along(curve)
    more = zip(turns(points), turns([lift(p) for p in flat]), strict=True)
    for k, (space, paper) in enumerate(more, start=1):
        foot = lift(flat[k])
        for hinge in piece.hinges:
            if hinge.fold == f"bend {k} of {curve.score}":
                ends = (lift(hinge.start), lift(hinge.end))
                reach = max(math.dist(foot, e) for e in ends)
                poses_here = poses[hinge.parent], poses[hinge.child]
                gap = max(math.dist(*(pose.apply(e) for pose in poses_here)) for e in ends)
                yield gap, (space - paper) * reach


proportions = st.tuples(
    st.floats(40.0, 120.0), st.floats(0.06, 0.2), st.sampled_from(["left", "a", "zig"])
)


@settings(max_examples=12, deadline=None)
@given(proportions)
def test_paper_stays_whole_on_its_way(given_as: tuple[float, float, str]) -> None:
    """Along creases and between the strips of panels nothing opens. Strips of a flap that snaps
    come over each other by no more than the curve is bent in space and not on paper."""
    wide, plump, left = given_as
    for piece, body, flex in ways(FRONT, BACK, wide=wide, rise=plump * wide, left=left):
        before, after = map(set, flex.pressed)
        for share in SHARES:
            poses = posed(piece, body, flex, share)
            for hinge in piece.hinges:
                if any(hinge.fold.endswith(f" of {s}") for s in before ^ after):
                    continue
                for end in (lift(hinge.start), lift(hinge.end)):
                    gap = math.dist(*(poses[f].apply(end) for f in (hinge.parent, hinge.child)))
                    assert gap < 1e-6, (share, hinge.fold)
            for own in flex.bent.values():
                for k in range(len(own.curves)):
                    for gap, most in squeezed(piece, own, k, poses):
                        assert gap < most * 1.05 + 1e-6, (share, own.curves[k].score)


@settings(max_examples=6, deadline=None)
@given(proportions)
def test_no_flap_goes_through_another_or_through_a_panel(
    given_as: tuple[float, float, str],
) -> None:
    wide, plump, left = given_as
    for piece, body, flex in ways(FRONT, BACK, wide=wide, rise=plump * wide, left=left):
        for share in SHARES[::2]:
            poses = posed(piece, body, flex, share)
            sheets = [(part_of(f.name), made(piece, f.name, poses)) for f in piece.facets]
            for (a, one), (b, other) in itertools.combinations(sheets, 2):
                if a != b:
                    # true outlines are arcs and the curves chords: they differ by that little
                    assert crossing_depth(one, other) < 0.1, (share, a, b)


def made(piece: Piece, facet: str, poses: dict[str, Pose]) -> Sheet:
    region = piece.facet(facet).region
    rings = [[poses[facet].apply(lift(p)) for p in flattened(r, 0.05)] for r in (region.outer,)]
    return sheet(rings, poses[facet].normal)


def test_panels_bulge_before_flaps_go_in_and_stay_while_others_follow() -> None:
    (_, body, first), (_, _, second) = ways(FRONT, BACK)
    assert first.pressed == ((), ("left front end", "right front end"))
    assert first.lean_deg(0.5) > 75.0
    middle = crease_name("left front end", 8)
    assert first.at(0.5)[middle] == pytest.approx(45.0, abs=2.0)
    assert {second.lean_deg(share) for share in SHARES} == {second.leans_deg[0]}
    heights = {f: pose.shift[2] for f, pose in body.facets if part_of(f) in {"front", "back"}}
    assert heights[first.still] == pytest.approx(min(heights.values()), abs=1e-6)


def test_flaps_that_come_out_go_back_the_same_way() -> None:
    (piece, body, there), (_, _, back) = ways(ALL, ALL + " by 0 degrees")
    for share in SHARES:
        one, other = there.at(share), back.at(1.0 - share)
        assert one == pytest.approx(other, abs=1e-6)
    assert bent_panels(piece)
    assert loop_residual(piece, dict(body.angles) | back.at(1.0)) < 1e-9


def test_straight_folds_are_left_to_turn_evenly() -> None:
    outcome = compile_text(PILLOW.format(wide=80, rise=14.4, a="left", b="right") + step(FRONT))
    assert outcome.story is not None
    assert outcome.story.handled is not None
    piece = outcome.story.handled.piece("box")
    motion = next(m for f in outcome.story.frames for m in f.motions if isinstance(m, FoldMotion))
    assert flexing(piece, {}, motion.folds, {}) is None


FORM = """
```piece box, in card
form     pillow box, wide = {wide} mm, long = {long} mm, plump = {plump}, tab = {tab} mm
```

```step
score    box
turn     over box
fold     seam of box
glue     seam of box
fold     front of box
fold     left front end and right front end of box
```

```step
turn     over box
fold     left back end and right back end of box
```
"""


@pytest.mark.parametrize(
    ("wide", "long", "plump", "tab"),
    [(80, 140, 0.18, 12), (120, 100, 0.2, 24), (40, 60, 0.06, 8), (60, 90, 0.2, 16)],
)
def test_the_seam_of_the_form_keeps_clear_of_the_ends(
    wide: float, long: float, plump: float, tab: float
) -> None:
    """Its own ends slant as the arc does where it begins, so that all of it lies within."""
    outcome = compile_text(FORM.format(wide=wide, long=long, plump=plump, tab=tab))
    assert codes(outcome) == []
    assert outcome.story is not None
    assert outcome.story.handled is not None
    piece, body = outcome.story.handled.piece("box"), outcome.story.end.body("box-1")
    sheets = [(part_of(f.name), made(piece, f.name, dict(body.facets))) for f in piece.facets]
    seam = [one for part, one in sheets if part == "seam"]
    ends = [one for part, one in sheets if part.endswith(" end")]
    assert max(crossing_depth(one, other) for one in seam for other in ends) < 0.02
