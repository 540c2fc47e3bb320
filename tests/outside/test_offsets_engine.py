"""Offsets and booleans against an engine that knows integers and straight lines only.

Oracle: Clipper 6 by A. Johnson, through pyclipper; 1 mm is a million of its units.
"""

from __future__ import annotations

import math

import pyclipper
import pytest

from publisher.geometry.booleans import region_difference, region_intersection, region_union
from publisher.geometry.flatten import flattened
from publisher.geometry.measure import area
from publisher.geometry.offset import Corners, offset_region
from publisher.geometry.path import Point, Region, circle, polygon
from publisher.geometry.shapes import regular_corners, star_corners

SCALE = 1_000_000
ELL = [(0.0, 0.0), (60.0, 0.0), (60.0, 20.0), (25.0, 20.0), (25.0, 45.0), (0.0, 45.0)]
SHAPES: dict[str, list[Point]] = {
    "L": ELL,
    "triangle": list(regular_corners(3, 30.0)),
    "hexagon": list(regular_corners(6, 30.0)),
    "star": list(star_corners(5, 40.0, 20.0)),
}
JOINS: dict[Corners, int] = {
    "mitred": pyclipper.JT_MITER,
    "rounded": pyclipper.JT_ROUND,
}


def whole(points: list[Point]) -> list[tuple[int, int]]:
    return [(round(x * SCALE), round(y * SCALE)) for x, y in points]


def engine_area(paths: list[list[tuple[int, int]]]) -> float:
    return abs(sum(pyclipper.Area(p) for p in paths)) / SCALE**2


def engine_offset(points: list[Point], by: float, corners: Corners) -> float:
    engine = pyclipper.PyclipperOffset(10.0, 0.0005 * SCALE)
    engine.AddPath(whole(points), JOINS[corners], pyclipper.ET_CLOSEDPOLYGON)
    return engine_area(engine.Execute(by * SCALE))


@pytest.mark.parametrize("corners", list(JOINS))
@pytest.mark.parametrize("by", [-6.0, -2.5, 1.0, 7.5])
@pytest.mark.parametrize("name", SHAPES)
def test_offsets(name: str, by: float, corners: Corners) -> None:
    points = SHAPES[name]
    ours = sum(area(r) for r in offset_region(Region(polygon(points)), by, corners))
    # Its rounds are chords that stray by half a micrometre; two turns of 7.5 mm are 94 mm long.
    assert ours == pytest.approx(engine_offset(points, by, corners), abs=0.0005 * 94.0)


@pytest.mark.parametrize("rule", ["union", "both", "less"])
def test_booleans_with_arcs(rule: str) -> None:
    ell, disc = Region(polygon(ELL)), Region(circle((30.0, 22.0), 14.0))
    found = {
        "union": lambda: region_union([ell, disc]),
        "both": lambda: region_intersection(ell, disc),
        "less": lambda: region_difference(ell, disc),
    }[rule]()
    kinds = {
        "union": pyclipper.CT_UNION,
        "both": pyclipper.CT_INTERSECTION,
        "less": pyclipper.CT_DIFFERENCE,
    }
    engine = pyclipper.Pyclipper()
    engine.AddPath(whole(ELL), pyclipper.PT_SUBJECT, True)
    chords = flattened(disc.outer, tolerance_mm=0.0005)
    engine.AddPath(whole(list(chords)), pyclipper.PT_CLIP, True)
    theirs = engine.Execute(kinds[rule], pyclipper.PFT_NONZERO, pyclipper.PFT_NONZERO)
    # Chords lie within the arcs by 0.0005 mm at most, along no more than the whole circle.
    assert sum(area(r) for r in found) == pytest.approx(
        engine_area(theirs), abs=0.0005 * 2.0 * math.pi * 14.0
    )
