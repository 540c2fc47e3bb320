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
