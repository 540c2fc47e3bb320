"""Bent paper against developable surfaces: cones, cylinders, and a cylinder cut aslant."""

from __future__ import annotations

import math

import pytest
from msgspec.structs import replace
from scipy.special import ellipe

from publisher.assembly.bending import crease_angle
from publisher.assembly.creased import Bent, Curve
from publisher.assembly.strips import STRIPS, in_strips, rulings
from publisher.geometry.path import Arc, Line, Path, Point, Region, polygon
from publisher.geometry.space import Vector, lift
from publisher.model.folding import facet_poses
from publisher.model.types import Panel, Piece
from tests.assembly.build import HERE, piece_of


def sector(slant: float, angle_deg: float) -> Piece:
    """A sector with its tip at (0, 0), symmetrical about the line downwards."""
    ends: list[Point] = []
    for side in (1.0, -1.0):
        turn = math.radians(90.0 + side * angle_deg / 2.0)
        ends.append((slant * math.cos(turn), slant * math.sin(turn)))
    # Clockwise as seen, y down: from the right end over the bottom to the left one and back.
    left, right = ends
    ring = Path(
        (Arc(right, left, (0.0, 0.0), True), Line(left, (0.0, 0.0)), Line((0.0, 0.0), right)), True
    )
    panel = Panel("cone", "panel", (right, left, (0.0, 0.0)), (), HERE)
    piece = piece_of("cone", Region(polygon(panel.ring)), [panel], [])

    facet = replace(piece.facets[0], region=Region(ring))
    return replace(piece, outline=Region(ring), facets=(facet,))


def closed_rim(piece: Piece, each_deg: float) -> list[Vector]:
    """Where the rim's points lie when every line has turned by so much, from the tip's place."""
    cut = in_strips(piece, "cone")
    poses = facet_poses(cut, {f.name: each_deg for f in cut.folds})
    points = []
    for facet in cut.facets:
        (rim,) = (s for s in facet.region.outer.segments if isinstance(s, Arc))
        points.append(poses[facet.name].apply(lift(rim.start)))
    return points


def spherical_turn(step_deg: float) -> float:
    """The outer angle of a regular spherical polygon with STRIPS sides of so many degrees."""
    half = math.cos(math.pi / STRIPS) / math.cos(math.radians(step_deg) / 2.0)
    return 180.0 - 2.0 * math.degrees(math.asin(half))


def test_a_sector_of_216_degrees_makes_a_cone_of_radius_30_and_height_40() -> None:
    """Slant 50 and angle 360 r / s = 216: the right cone with r = 30, h = 40 (its development,
    standard geometry). A pyramid of 48 faces inscribed in it stands a little inside."""
    piece = sector(50.0, 216.0)
    cut = rulings(piece.facets[0].region)
    assert cut.centre == pytest.approx((0.0, 0.0))
    assert cut.greatest - cut.least == pytest.approx(216.0)
    points = closed_rim(piece, spherical_turn(cut.step))
    middle = [sum(p[i] for p in points) / len(points) for i in range(3)]
    radii = [math.dist(p, middle) for p in points]
    assert max(radii) == pytest.approx(30.0, abs=0.05)
    assert min(radii) == pytest.approx(30.0, abs=0.05)
    assert math.dist(middle, (0.0, 0.0, 0.0)) == pytest.approx(40.0, abs=0.05)
    assert math.dist(points[0], points[-1]) == pytest.approx(math.dist(points[0], points[1]))


def test_the_height_in_place_of_the_slant_is_wrong() -> None:
    """With 40 for 50 the sector would have 270 degrees, and the cone another radius."""
    piece = sector(40.0, 270.0)
    points = closed_rim(piece, spherical_turn(rulings(piece.facets[0].region).step))
    middle = [sum(p[i] for p in points) / len(points) for i in range(3)]
    assert math.dist(middle, (0.0, 0.0, 0.0)) < 27.0  # sqrt(40^2 - 30^2) = 26.46


def cosine(radius: float, half_deg: float, count: int) -> Bent:
    """A curve x(s) = R (cos(s / R) - cos phi) across a panel: a pillow's end at 45 degrees."""
    half = math.radians(half_deg)
    at = tuple(2.0 * radius * half * i / count for i in range(count + 1))
    depths = tuple(radius * (math.cos(s / radius - half) - math.cos(half)) for s in at)
    curve = Curve("end", "mountain", depths, -1, 0.0)
    return Bent("panel", (0.0, 0.0), (1.0, 0.0), (0.0, 1.0), at, (curve,))


def test_a_cosine_at_45_degrees_bends_the_panel_to_a_circle() -> None:
    """The section is an arc of radius R with the half angle phi (mirror reflection along a
    planar curve: Mitani 2012): its width 2 R sin(phi), its height R (1 - cos(phi))."""
    bent = cosine(50.0, 55.0, 400)
    y = z = 0.0
    points = [(0.0, 0.0)]
    for slope, a, b in zip(bent.slopes(1.0), bent.at_mm, bent.at_mm[1:], strict=False):
        y, z = y + (b - a) * math.cos(slope), z + (b - a) * math.sin(slope)
        points.append((y, z))
    half = math.radians(55.0)
    assert points[-1][0] == pytest.approx(2.0 * 50.0 * math.sin(half), abs=0.01)
    assert points[-1][1] == pytest.approx(0.0, abs=1e-9)
    centre = (50.0 * math.sin(half), -50.0 * math.cos(half))
    assert all(math.dist(p, centre) == pytest.approx(50.0, abs=0.01) for p in points)


def test_a_cylinder_cut_at_45_degrees_has_the_edge_of_an_ellipse() -> None:
    """Half of the cut edge, unrolled, is half of a cosine wave of amplitude 20 and is as long as
    half of the ellipse with axes 20 / cos(45) and 20: 4 a E(e) / 2 = 76.4040 (scipy's E)."""
    bent = cosine(20.0, 90.0, 4000)
    (curve,) = bent.curves
    pairs = zip(bent.at_mm, bent.at_mm[1:], curve.depths_mm, curve.depths_mm[1:], strict=False)
    length = sum(math.hypot(t - s, b - a) for s, t, a, b in pairs)
    long = 20.0 / math.cos(math.radians(45.0))
    wanted = 2.0 * long * ellipe(1.0 - (20.0 / long) ** 2)
    assert wanted == pytest.approx(152.807912 / 2.0, abs=1e-5)
    assert length == pytest.approx(wanted, abs=1e-4)


def test_the_crease_where_the_strip_lies_level_is_the_lean() -> None:
    """At its crown the curve runs straight across, and the flap is folded by twice the angle of
    its plane: 90 degrees for a plane at 45, 60 for one at 30."""
    for lean in (90.0, 60.0, 20.0):
        tangent = math.tan(math.radians(lean) / 2.0)
        assert crease_angle(0.0, 0.0, tangent) == pytest.approx(lean)
