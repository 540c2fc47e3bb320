"""Cubic curves as arcs, against another reader of curves.

Oracle: svgpathtools (A. Port), which integrates lengths and areas of Bezier curves by itself.
"""

from __future__ import annotations

import math

import pytest
import svgpathtools

from publisher.geometry.curves import CURVE_MM, Cubic, cubic_arcs
from publisher.geometry.measure import signed_area
from publisher.geometry.path import Line, Path, Region
from publisher.geometry.transform import rotated

CURVES: dict[str, Cubic] = {
    "bow": ((0.0, 0.0), (20.0, -30.0), (40.0, -30.0), (60.0, 0.0)),
    "wave": ((0.0, 0.0), (20.0, -30.0), (40.0, 30.0), (60.0, 0.0)),
    "hook": ((0.0, 0.0), (50.0, 0.0), (60.0, 10.0), (60.0, 60.0)),
    "loop": ((0.0, 0.0), (80.0, 40.0), (-20.0, 40.0), (60.0, 0.0)),
    "small": ((0.0, 0.0), (0.5, -0.8), (1.0, -0.8), (1.5, 0.0)),
    "large": ((0.0, 0.0), (300.0, -200.0), (500.0, 400.0), (900.0, 0.0)),
}


def theirs(curve: Cubic) -> svgpathtools.CubicBezier:
    return svgpathtools.CubicBezier(*(complex(x, y) for x, y in curve))


@pytest.mark.parametrize("name", CURVES)
def test_length(name: str) -> None:
    curve = CURVES[name]
    ours = sum(s.length_mm for s in cubic_arcs(curve))
    # Arcs that stray by so little are longer or shorter by no more than that here.
    assert ours == pytest.approx(theirs(curve).length(error=1e-9), rel=1e-4, abs=CURVE_MM)


@pytest.mark.parametrize("name", CURVES)
def test_area_to_the_chord(name: str) -> None:
    curve = CURVES[name]
    segments = cubic_arcs(curve)
    closed = Path((*segments, Line(curve[3], curve[0])), closed=True)
    other = svgpathtools.Path(
        theirs(curve), svgpathtools.Line(complex(*curve[3]), complex(*curve[0]))
    )
    # svgpathtools counts area with y up: clockwise there is against the clock here.
    length = sum(s.length_mm for s in segments)
    assert abs(abs(signed_area(closed)) - abs(other.area())) <= 2.0 * CURVE_MM * length


@pytest.mark.parametrize("name", CURVES)
def test_no_point_of_the_curve_is_far_from_the_arcs(name: str) -> None:
    from publisher.geometry.segments import nearest_on

    curve, other = CURVES[name], theirs(CURVES[name])
    segments = cubic_arcs(curve)
    for i in range(201):
        z = other.point(i / 200)
        p = (z.real, z.imag)
        assert min(math.dist(nearest_on(s, p), p) for s in segments) <= 1.5 * CURVE_MM


def test_turning_first_or_last_is_the_same() -> None:
    turned = tuple(rotated_point(p) for p in CURVES["hook"])
    ours = sum(s.length_mm for s in cubic_arcs((turned[0], turned[1], turned[2], turned[3])))
    assert ours == pytest.approx(sum(s.length_mm for s in cubic_arcs(CURVES["hook"])), rel=1e-9)


def rotated_point(p: tuple[float, float]) -> tuple[float, float]:
    region = Region(Path((Line(p, (p[0] + 1.0, p[1])),), closed=True))
    return rotated(region, 33.0).outer.segments[0].start
