"""Panels that bend: true arc length, radius by hand."""

from __future__ import annotations

import math

import pytest

from publisher.assembly import State, assemble
from publisher.assembly.strips import STRIPS, in_strips
from publisher.geometry.measure import area
from publisher.geometry.space import Vector, lift
from publisher.model.types import Piece
from tests.assembly.build import do, part, pattern, sheet, strip
from tests.compiled import codes, compile_text


def ends(piece: Piece, state: State) -> list[Vector]:
    """Where the long side's points between the strips lie, from one end to the other."""
    body = state.body(f"{piece.name}-1")
    poses = dict(body.facets)
    cut = in_strips(piece, piece.name, STRIPS)
    points = [poses[f"{piece.name} strip 1"].apply(lift((0.0, 0.0)))]
    for i in range(1, STRIPS + 1):
        x = 200.0 * i / STRIPS
        points.append(poses[f"{piece.name} strip {i}"].apply(lift((x, 0.0))))
    assert len(cut.facets) == STRIPS
    return points


def test_a_strip_curls_into_a_tube() -> None:
    """200 round: a polygon of 48 sides, whose corners lie on a circle of radius
    200 / 48 / (2 * sin(180 / 48)) = 31.854; the circle of girth 200 has 31.831."""
    tube = sheet("tube", 200.0, 60.0)
    story, findings = assemble(pattern([tube], do("curl", part("tube"))))
    assert findings == []
    points = ends(tube, story.end)
    assert math.dist(points[0], points[-1]) < 1e-9
    assert sum(map(math.dist, points, points[1:])) == pytest.approx(200.0, abs=1e-9)
    radius = 200.0 / STRIPS / (2.0 * math.sin(math.pi / STRIPS))
    assert radius == pytest.approx(31.854, abs=1e-3)
    assert math.dist(points[0], points[STRIPS // 2]) == pytest.approx(2.0 * radius)
    assert 2.0 * math.pi * radius == pytest.approx(200.0, rel=1e-3)
    assert len(story.smooth) == STRIPS - 1


def test_half_round_keeps_its_length() -> None:
    tube = sheet("tube", 200.0, 60.0)
    story, _ = assemble(pattern([tube], do("curl", part("tube"), by=180.0)))
    points = ends(tube, story.end)
    assert sum(map(math.dist, points, points[1:])) == pytest.approx(200.0, abs=1e-9)
    # The chord of a half circle of length 200: 2 * 200 / pi = 127.32.
    assert math.dist(points[0], points[-1]) == pytest.approx(127.32, abs=0.3)


def test_the_back_face_is_inside() -> None:
    tube = sheet("tube", 200.0, 60.0)
    story, _ = assemble(pattern([tube], do("curl", part("tube"))))
    body = story.end.body("tube-1")
    middle = [sum(p[i] for p in ends(tube, story.end)[:-1]) / STRIPS for i in range(3)]
    for name, pose in body.facets:
        number = int(name.rsplit(" ", 1)[1])
        at = pose.apply(lift((200.0 * (number - 0.5) / STRIPS, 0.0)))
        outwards = sum((a - m) * n for a, m, n in zip(at, middle, pose.normal, strict=True))
        assert outwards > 30.0


def test_strips_have_all_of_the_paper() -> None:
    tall = in_strips(sheet("tall", 40.0, 90.0), "tall", 9)
    assert sum(area(f.region) for f in tall.facets) == pytest.approx(3600.0)
    assert [h.start[1] for h in tall.hinges] == pytest.approx([10.0 * i for i in range(1, 9)])


def test_only_the_panel_that_is_named_bends() -> None:
    made = strip("card", [60.0, 100.0], 40.0)
    cut = in_strips(made, "b", 10)
    assert [f.name for f in cut.facets][:2] == ["a", "b strip 1"]
    # The fold between the panels is still there, between a and the first strip.
    fold = next(h for h in cut.hinges if h.fold == "b")
    assert (fold.parent, fold.child) == ("a", "b strip 1")


def test_a_tab_goes_on_round_within() -> None:
    body = """
```piece tube, in card
panel    wall, 150 x 60 mm
tab      on right of wall, 12 mm deep, 2 mm taper, mountain, meets left of wall, called seam
```

```step
turn     over tube
curl     right of wall to left of wall
glue     seam of tube
```
"""
    outcome = compile_text(body)
    assert codes(outcome) == []
    assert outcome.story is not None
    end = outcome.story.end.body("tube-1")
    # 12 of strips 150 / 48 = 3.125 wide: three whole ones and a rest, each in the plane of one.
    names = [n for n, _ in end.facets if n.startswith("seam")]
    assert len(names) == 4
    for i, name in enumerate(names, start=1):
        here, there = end.facet_pose(name), end.facet_pose(f"wall strip {i}")
        assert math.dist(here.normal, there.normal) < 1e-9
    assert {b.by for b in outcome.story.end.bonds} == {"glue"}


def test_a_radius_bends_so_far() -> None:
    body = """
```piece cover, in card
outline  rectangle, 100 x 60 mm
```

```step
curl     cover, 50 mm radius, valley
```
"""
    outcome = compile_text(body)
    assert codes(outcome) == []
    assert outcome.story is not None
    angles = dict(outcome.story.end.body("cover-1").angles)
    # 100 mm round a radius of 50 mm is 2 radians, in 48 parts.
    assert angles["bend 1 of cover"] == pytest.approx(math.degrees(2.0) / STRIPS)
    assert outcome.story.handled is not None
    assert outcome.story.handled.piece("cover").fold("bend 1 of cover").bend == "valley"


def test_more_than_once_round_is_refused() -> None:
    outcome = compile_text(
        "\n```piece cover, in card\noutline  rectangle, 100 x 60 mm\n```\n"
        "\n```step\ncurl     cover, 10 mm radius\n```\n"
    )
    assert codes(outcome) == ["wrong-angle"]
