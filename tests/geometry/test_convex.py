"""Convex paper cut along lines, beside the general booleans."""

from __future__ import annotations

import math
import random

import pytest

from publisher.geometry.booleans import region_intersection
from publisher.geometry.canonical import canonical_region
from publisher.geometry.convex import is_convex
from publisher.geometry.path import Point, Region, polygon
from publisher.model.shaping.glue import strip_along
from publisher.model.shaping.panels import along_and_out, shifted
from publisher.model.types import Edge

STAR: list[Point] = [
    (50 + 50 * math.cos(0.8 * math.pi * k), 50 + 50 * math.sin(0.8 * math.pi * k)) for k in range(5)
]


@pytest.mark.parametrize(
    ("points", "convex"),
    [
        ([(0, 0), (40, 0), (40, 30), (0, 30)], True),
        ([(0, 0), (20, 0), (40, 0), (40, 30), (0, 30)], False),
        ([(0, 0), (40, 0), (10, 10), (0, 30)], False),
        (STAR, False),
    ],
)
def test_what_is_convex(points: list[Point], convex: bool) -> None:
    assert is_convex(Region(polygon(points))) is convex


def test_a_hole_is_not_convex() -> None:
    hole = polygon([(10, 10), (10, 20), (20, 20)])
    assert not is_convex(Region(polygon([(0, 0), (40, 0), (40, 30), (0, 30)]), (hole,)))


def test_strips_are_those_of_the_booleans() -> None:
    chance = random.Random(3)
    looked = 0
    for _ in range(150):
        turns = sorted(chance.uniform(0, 2 * math.pi) for _ in range(chance.randint(3, 8)))
        points = [(100 + 80 * math.cos(a), 70 + 50 * math.sin(a)) for a in turns]
        paper = canonical_region(Region(polygon(points)))
        if not is_convex(paper):
            continue
        looked += 1
        side = chance.choice(paper.outer.segments)
        edge, width = Edge("x", side.start, side.end), chance.choice([3.0, 10.0, 60.0])
        u, out = along_and_out(edge)
        a, b = shifted(edge.start, (u, -1e4)), shifted(edge.end, (u, 1e4))
        ring = polygon([a, b, shifted(b, (out, -width)), shifted(a, (out, -width))])
        ours, theirs = strip_along(paper, edge, width), region_intersection(paper, Region(ring))
        assert len(ours) == len(theirs) == 1
        ours_at, theirs_at = (
            [s.start for s in found[0].outer.segments] for found in (ours, theirs)
        )
        assert len(ours_at) == len(theirs_at)
        assert all(math.dist(p, q) < 1e-6 for p, q in zip(ours_at, theirs_at, strict=True))
    assert looked > 100
