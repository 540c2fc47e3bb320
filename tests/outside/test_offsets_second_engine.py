"""Offsets and booleans against a second engine with another algorithm.

Oracle: Clipper 2 by A. Johnson, through pyclipr; lengths are kept to a millionth of a mm.
"""

from __future__ import annotations

import math

import numpy as np
import pyclipr
import pytest

from publisher.geometry.booleans import region_difference, region_intersection, region_union
from publisher.geometry.flatten import flattened
from publisher.geometry.measure import area
from publisher.geometry.offset import Corners, offset_region
from publisher.geometry.path import Point, Region, circle, polygon
from publisher.geometry.shapes import regular_corners, star_corners

SCALE = 1_000_000
ELL: list[Point] = [(0.0, 0.0), (60.0, 0.0), (60.0, 20.0), (25.0, 20.0), (25.0, 45.0), (0.0, 45.0)]
SHAPES: dict[str, list[Point]] = {
    "L": ELL,
    "triangle": list(regular_corners(3, 30.0)),
    "hexagon": list(regular_corners(6, 30.0)),
    "star": list(star_corners(5, 40.0, 20.0)),
}
JOINS: dict[Corners, pyclipr.JoinType] = {
    "mitred": pyclipr.JoinType.Miter,
    "rounded": pyclipr.JoinType.Round,
}


def engine_area(paths: list[np.ndarray]) -> float:
    """The shoelace formula, holes walked the other way round."""
    total = 0.0
    for path in paths:
        x, y = np.asarray(path)[:, 0], np.asarray(path)[:, 1]
        total += float(np.dot(x, np.roll(y, -1)) - np.dot(np.roll(x, -1), y)) / 2.0
    return abs(total)


@pytest.mark.parametrize("corners", list(JOINS))
@pytest.mark.parametrize("by", [-6.0, -2.5, 1.0, 7.5])
@pytest.mark.parametrize("name", SHAPES)
def test_offsets(name: str, by: float, corners: Corners) -> None:
    engine = pyclipr.ClipperOffset()
    engine.scaleFactor = SCALE
    engine.miterLimit = 10.0
    engine.arcTolerance = 0.0005 * SCALE
    engine.addPath(np.array(SHAPES[name]), JOINS[corners], pyclipr.EndType.Polygon)
    theirs = engine_area(engine.execute(by))
    ours = sum(area(r) for r in offset_region(Region(polygon(SHAPES[name])), by, corners))
    # Its rounds are chords that stray by half a micrometre, over two turns of 7.5 mm.
    assert ours == pytest.approx(theirs, abs=0.0005 * 94.0)


@pytest.mark.parametrize("rule", ["union", "both", "less"])
def test_booleans_with_arcs(rule: str) -> None:
    ell, disc = Region(polygon(ELL)), Region(circle((30.0, 22.0), 14.0))
    found = {
        "union": lambda: region_union([ell, disc]),
        "both": lambda: region_intersection(ell, disc),
        "less": lambda: region_difference(ell, disc),
    }[rule]()
    kinds = {
        "union": pyclipr.ClipType.Union,
        "both": pyclipr.ClipType.Intersection,
        "less": pyclipr.ClipType.Difference,
    }
    engine = pyclipr.Clipper()
    engine.scaleFactor = SCALE
    engine.addPath(np.array(ELL), pyclipr.PathType.Subject)
    chords = np.array(list(flattened(disc.outer, tolerance_mm=0.0005)))
    engine.addPath(chords, pyclipr.PathType.Clip)
    theirs = engine.execute(kinds[rule], pyclipr.FillRule.NonZero)
    assert sum(area(r) for r in found) == pytest.approx(
        engine_area(theirs), abs=0.0005 * 2.0 * math.pi * 14.0
    )
