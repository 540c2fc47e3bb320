"""Antiprisms whose nets are written in the language, folded by its own angles.

Heights, volumes and areas of the uniform antiprisms with edge 1 are those of tables (recomputed
from the coordinates of their corners: two regular polygons, one turned by half a side). The
dihedral angles stand in the nets as formulas: cos = -tan(pi/2n)/sqrt(3) between an end and a
triangle, cos = (1 - 4 cos(pi/n))/3 between two triangles (from memory). They are checked twice:
against angles between the planes of the coordinates, and by the net that has to close.
"""

from __future__ import annotations

import math

import pytest

from publisher.geometry.measure import area
from publisher.geometry.path import Point
from publisher.geometry.space import Vector, cross, dot, lift, sub, unit
from publisher.model.folding import closed_angles, facet_poses
from publisher.model.types import Panel, Piece
from tests.compiled import compile_text

EDGE_MM = 50.0
TABLE = {
    3: (0.816497, 0.471405, 3.464102),
    4: (0.840896, 0.957000, 5.464102),
    5: (0.850651, 1.578689, 7.771082),
    6: (0.855600, 2.337542, 10.392305),
}
"""Height, volume and area for edge 1, by the sides of the ends."""

SIZES = """```sizes
n     = {n}
side  = {side} mm
deep  = side * square root(3) / 2
end   = 180 degrees - arc cosine(-tangent(90 degrees / n) / square root(3))
belt  = 180 degrees - arc cosine((1 - 4 * cosine(180 degrees / n)) / 3)
```
"""
STEP = "```step\nlay net\n```\n"


def piece_of(n: int, uppers: str = "") -> Piece:
    """The net: an end, a triangle on each of its edges, and what ``uppers`` adds."""
    net = (
        "```piece net, in card\n"
        "outline polygon, n sides, side side\n"
        "panel lower, on each edge of net, deep deep, side / 2 taper, mountain by end\n"
        f"{uppers}```\n"
    )
    outcome = compile_text("\n" + SIZES.format(n=n, side=EDGE_MM) + net + STEP)
    assert not outcome.diagnostics, outcome.diagnostics
    assert outcome.pattern is not None
    return outcome.pattern.piece("net")


def free_edge(panel: Panel, piece: Piece) -> str:
    """The edge of a lower triangle that comes back to the end, walking clockwise."""
    fold = piece.fold(panel.name)
    (name,) = [
        e.name
        for e in panel.edges
        if math.dist(e.end, fold.end) < 1e-9 and math.dist(e.start, fold.start) > 1e-9
    ]
    return name


def folded_net(n: int) -> Piece:
    part = piece_of(n)
    return piece_of(
        n,
        "".join(
            f"panel upper {i}, on {free_edge(part.panel(f'lower {i}'), part)} of lower {i}, "
            "deep deep, side / 2 taper, mountain by belt\n"
            for i in range(1, n + 1)
        ),
    )


def corners(piece: Piece) -> dict[str, list[Vector]]:
    poses = facet_poses(piece, closed_angles(piece))
    return {
        facet.name: [poses[facet.name].apply(lift(s.start)) for s in facet.region.outer.segments]
        for facet in piece.facets
    }


def distinct(points: list[Vector]) -> list[Vector]:
    found: list[Vector] = []
    for point in points:
        if all(math.dist(point, other) > 1e-6 for other in found):
            found.append(point)
    return found


def ring(n: int, turn: float) -> list[Point]:
    radius = 1.0 / (2.0 * math.sin(math.pi / n))
    angles = [2.0 * math.pi * i / n + turn for i in range(n)]
    return [(radius * math.cos(a), radius * math.sin(a)) for a in angles]


def normal(a: Vector, b: Vector, c: Vector) -> Vector:
    return unit(cross(sub(b, a), sub(c, a)))


@pytest.mark.parametrize("n", sorted(TABLE))
def test_the_angles_are_those_between_the_planes(n: int) -> None:
    height, _, _ = TABLE[n]
    low = [(x, y, 0.0) for x, y in ring(n, 0.0)]
    high = [(x, y, height) for x, y in ring(n, math.pi / n)]
    lower = normal(low[0], low[1], high[0])
    upper = normal(high[0], low[1], high[1])
    piece = folded_net(n)
    for name, one, other in (
        ("lower 1", (0.0, 0.0, -1.0), lower),
        ("upper 1", lower, upper),
    ):
        turned = math.degrees(math.acos(dot(one, other)))
        assert piece.fold(name).closing_deg == pytest.approx(turned, abs=1e-3)


@pytest.mark.parametrize("n", sorted(TABLE))
def test_the_net_closes_to_the_solid(n: int) -> None:
    height, volume, surface = TABLE[n]
    piece = folded_net(n)
    found = corners(piece)
    points = distinct([p for own in found.values() for p in own])
    # 3 n triangles' corners and those of the end fall together in 2 n.
    assert len(points) == 2 * n
    heights = sorted(round(abs(z) / EDGE_MM, 8) for _, _, z in points)
    assert heights[:n] == [0.0] * n
    assert heights[n:] == pytest.approx([height] * n, abs=2e-6)
    top = n / (4.0 * math.tan(math.pi / n))
    paper = sum(area(f.region) for f in piece.facets) / EDGE_MM**2
    assert paper + top == pytest.approx(surface, abs=2e-6)
    # As pyramids from its middle: a third of each face's area times how far off its plane is.
    middle = tuple(sum(p[k] for p in points) / len(points) for k in range(3))
    inside = sum(
        area(piece.facet(name).region) * abs(dot(sub(middle, own[0]), normal(*own[:3])))
        for name, own in found.items()
    )
    top_mm3 = top * EDGE_MM**2 * (height * EDGE_MM - abs(middle[2]))
    assert (inside + top_mm3) / 3.0 / EDGE_MM**3 == pytest.approx(volume, abs=2e-6)


def test_a_wrong_angle_does_not_close() -> None:
    """A degree too much, and corners that are one lie a hair or more apart."""
    piece = folded_net(5)
    angles = {name: deg * (1.0 + 0.01) for name, deg in closed_angles(piece).items()}
    poses = facet_poses(piece, angles)
    found = [
        poses[f.name].apply(lift(s.start)) for f in piece.facets for s in f.region.outer.segments
    ]
    assert len(distinct(found)) > 10
