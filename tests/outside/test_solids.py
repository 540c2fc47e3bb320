"""Nets folded by the engine against solids whose corners come from their definitions.

A solid is given by coordinates alone. Its faces are found from its corners, unfolded along a
tree of edges into a flat net, and the net is folded by ``pi - dihedral`` at every hinge. All
copies of a corner must meet, and the corners must be the solid's own up to a rigid motion.

Dihedral angles: the analytic values below agree with tables of the Platonic and Archimedean
solids (H. S. M. Coxeter, Regular Polytopes, table I, from memory; the six-digit figures were
recomputed from convex hulls).
"""

from __future__ import annotations

import itertools
import math
from collections import deque

import pytest

from publisher.diagnostics import Span
from publisher.geometry.path import Point, Region, polygon
from publisher.geometry.space import (
    Vector,
    add,
    cross,
    dot,
    lift,
    norm,
    scaled,
    sub,
    unit,
)
from publisher.model.folding import facet_poses
from publisher.model.hinges import loop_residual
from publisher.model.types import Edge, Facet, Fold, Hinge, Panel, Piece
from publisher.trade import Stock
from tests.handmade import CARD

Corners = list[Vector]
Face = tuple[int, ...]
HERE = Span("solids", 0, 1, 1, 1)
EDGE_MM = 50.0


# ---------------------------------------------------------------- solids from definitions


def _permutations(values: tuple[float, float, float]) -> Corners:
    """All arrangements of the values with all signs."""
    found: set[Vector] = set()
    for order in itertools.permutations(values):
        for signs in itertools.product((1.0, -1.0), repeat=3):
            found.add((signs[0] * order[0], signs[1] * order[1], signs[2] * order[2]))
    return sorted(found)


def cube() -> Corners:
    return _permutations((1.0, 1.0, 1.0))


def tetrahedron() -> Corners:
    return [c for c in cube() if c[0] * c[1] * c[2] > 0]


def octahedron() -> Corners:
    return _permutations((1.0, 0.0, 0.0))


def cuboctahedron() -> Corners:
    return _permutations((1.0, 1.0, 0.0))


def truncated_tetrahedron() -> Corners:
    """Permutations of (3, 1, 1) with an even number of minus signs."""
    return [c for c in _permutations((3.0, 1.0, 1.0)) if c[0] * c[1] * c[2] > 0]


def icosahedron() -> Corners:
    golden = (1.0 + math.sqrt(5.0)) / 2.0
    found = []
    for a, b in itertools.product((1.0, -1.0), (golden, -golden)):
        found += [(0.0, a, b), (a, b, 0.0), (b, 0.0, a)]
    return sorted(found)


def dodecahedron() -> Corners:
    """The corners of a cube, and (0, 1 / golden, golden) with all signs, turned round."""
    golden = (1.0 + math.sqrt(5.0)) / 2.0
    found = list(cube())
    for a, b in itertools.product((1.0 / golden, -1.0 / golden), (golden, -golden)):
        found += [(0.0, a, b), (a, b, 0.0), (b, 0.0, a)]
    return sorted(found)


def truncated_cube() -> Corners:
    """Permutations of (1, 1, sqrt(2) - 1) with all signs."""
    return _permutations((1.0, 1.0, math.sqrt(2.0) - 1.0))


def truncated_octahedron() -> Corners:
    return _permutations((0.0, 1.0, 2.0))


def square_pyramid() -> Corners:
    """Base 100 x 100, height 80."""
    base = [(x, y, 0.0) for x in (-50.0, 50.0) for y in (-50.0, 50.0)]
    return [*base, (0.0, 0.0, 80.0)]


def faces_of(corners: Corners) -> list[Face]:
    """The faces of the convex hull: planes that have all corners on one side. Each face's
    corners go round anticlockwise as seen from outside."""
    found: dict[frozenset[int], Face] = {}
    centre = scaled(_sum(corners), 1.0 / len(corners))
    for i, j, k in itertools.combinations(range(len(corners)), 3):
        normal = cross(sub(corners[j], corners[i]), sub(corners[k], corners[i]))
        if norm(normal) < 1e-9:
            continue
        normal = unit(normal)
        if dot(normal, sub(corners[i], centre)) < 0:
            normal = scaled(normal, -1.0)
        heights = [dot(normal, sub(c, corners[i])) for c in corners]
        if max(heights) > 1e-9:
            continue
        on = [n for n, height in enumerate(heights) if height > -1e-9]
        found.setdefault(frozenset(on), _round(corners, on, normal))
    return [found[key] for key in sorted(found, key=sorted)]


def _sum(points: Corners) -> Vector:
    total: Vector = (0.0, 0.0, 0.0)
    for point in points:
        total = add(total, point)
    return total


def _round(corners: Corners, on: list[int], normal: Vector) -> Face:
    middle = scaled(_sum([corners[n] for n in on]), 1.0 / len(on))
    right = unit(sub(corners[on[0]], middle))
    ahead = cross(normal, right)

    def turn(n: int) -> float:
        arm = sub(corners[n], middle)
        return math.atan2(dot(arm, ahead), dot(arm, right))

    return tuple(sorted(on, key=turn))


def shared_edge(a: Face, b: Face) -> tuple[int, int] | None:
    """The corners of an edge that two faces share, in the order in which ``a`` walks it."""
    for p, q in zip(a, (*a[1:], a[0]), strict=True):
        if p in b and q in b:
            return p, q
    return None


def normal_of(corners: Corners, face: Face) -> Vector:
    a, b, c = (corners[n] for n in face[:3])
    return unit(cross(sub(b, a), sub(c, a)))


def dihedral_deg(corners: Corners, a: Face, b: Face) -> float:
    """Angle inside the solid between two faces."""
    cosine = dot(normal_of(corners, a), normal_of(corners, b))
    return 180.0 - math.degrees(math.acos(max(-1.0, min(1.0, cosine))))


# ---------------------------------------------------------------- from a solid to its net


def flat_net(corners: Corners, faces: list[Face]) -> tuple[list[dict[int, Point]], list[int]]:
    """Each face laid flat (y down, seen from outside), unfolded breadth first from face 0;
    and the face that each hangs on (-1 for the first)."""
    first = faces[0]
    origin, normal = corners[first[0]], normal_of(corners, first)
    right = unit(sub(corners[first[1]], origin))
    down = scaled(cross(normal, right), -1.0)
    flat: dict[int, dict[int, Point]] = {0: {}}
    for n in first:
        arm = sub(corners[n], origin)
        flat[0][n] = (dot(arm, right), dot(arm, down))
    parent = {0: -1}
    waiting = deque([0])
    while waiting:
        i = waiting.popleft()
        for j, face in enumerate(faces):
            edge = shared_edge(faces[i], face)
            if j in parent or edge is None:
                continue
            parent[j] = i
            flat[j] = _hinged(corners, face, edge, flat[i])
            waiting.append(j)
    return [flat[i] for i in range(len(faces))], [parent[i] for i in range(len(faces))]


def _hinged(
    corners: Corners, face: Face, edge: tuple[int, int], known: dict[int, Point]
) -> dict[int, Point]:
    """A face laid flat beyond an edge whose flat place is known: its corners keep their
    distances along the edge and away from it."""
    a, b = (complex(*known[n]) for n in edge)
    along = unit(sub(corners[edge[1]], corners[edge[0]]))
    placed: dict[int, Point] = {}
    for n in face:
        arm = sub(corners[n], corners[edge[0]])
        part = dot(arm, along)
        away = norm(sub(arm, scaled(along, part)))
        # The edge is walked anticlockwise as seen; beyond it is its right-hand side, which
        # with y down is +90 degrees from its direction.
        spot = a + (b - a) / abs(b - a) * complex(part, away)
        placed[n] = (spot.real, spot.imag)
    return placed


def net_piece(corners: Corners) -> tuple[Piece, list[Face], list[dict[int, Point]]]:
    """The net as a piece: all folds mountain, each by 180 degrees less the dihedral angle."""
    faces = faces_of(corners)
    flats, parents = flat_net(corners, faces)
    panels, folds, hinges = [], [], []
    for i, face in enumerate(faces):
        # Anticlockwise as seen; rings of pieces are clockwise.
        ring = tuple(flats[i][n] for n in reversed(face))
        edges = tuple(
            Edge(str(k), p, q)
            for k, (p, q) in enumerate(zip(ring, ring[1:] + ring[:1], strict=True))
        )
        panels.append(Panel(f"face {i}", "panel", ring, edges, HERE))
        if parents[i] >= 0:
            edge = shared_edge(faces[parents[i]], face)
            assert edge is not None
            end, start = (flats[parents[i]][n] for n in edge)  # clockwise: the other way
            turn = 180.0 - dihedral_deg(corners, faces[parents[i]], face)
            name, on = f"face {i}", f"face {parents[i]}"
            folds.append(Fold(name, start, end, "mountain", turn, on, name, HERE))
            hinges.append(Hinge(name, on, name, start, end))
    facets = tuple(Facet(p.name, p.name, Region(polygon(p.ring))) for p in panels)
    return _piece(CARD, panels, folds, facets, hinges), faces, flats


def _piece(
    stock: Stock,
    panels: list[Panel],
    folds: list[Fold],
    facets: tuple[Facet, ...],
    hinges: list[Hinge],
) -> Piece:
    outline = facets[0].region
    return Piece(
        "net",
        stock,
        1,
        outline,
        tuple(panels),
        tuple(folds),
        (),
        (),
        (),
        facets,
        tuple(hinges),
        HERE,
    )


def folded_corners(
    piece: Piece, faces: list[Face], flats: list[dict[int, Point]], angles: dict[str, float]
) -> dict[int, list[Vector]]:
    """Where each face puts each of its corners."""
    poses = facet_poses(piece, angles)
    found: dict[int, list[Vector]] = {}
    for i, face in enumerate(faces):
        for n in face:
            found.setdefault(n, []).append(poses[f"face {i}"].apply(lift(flats[i][n])))
    return found


def spread(points: list[Vector]) -> float:
    return max(math.dist(a, b) for a in points for b in points)


def closing(piece: Piece) -> dict[str, float]:
    return {f.name: f.closing_deg for f in piece.folds}


SOLIDS = {
    "cube": (cube(), 6, 8),
    "tetrahedron": (tetrahedron(), 4, 4),
    "octahedron": (octahedron(), 8, 6),
    "icosahedron": (icosahedron(), 20, 12),
    "truncated tetrahedron": (truncated_tetrahedron(), 8, 12),
    "cuboctahedron": (cuboctahedron(), 14, 12),
    "dodecahedron": (dodecahedron(), 12, 20),
    "truncated cube": (truncated_cube(), 14, 24),
    "truncated octahedron": (truncated_octahedron(), 14, 24),
}


def with_edge(corners: Corners, edge_mm: float) -> Corners:
    """The same solid with edges of this length."""
    shortest = min(math.dist(a, b) for a, b in itertools.combinations(corners, 2))
    return [scaled(c, edge_mm / shortest) for c in corners]


@pytest.mark.parametrize("name", SOLIDS)
def test_net_closes_to_its_solid(name: str) -> None:
    shape, face_count, corner_count = SOLIDS[name]
    corners = with_edge(shape, EDGE_MM)
    piece, faces, flats = net_piece(corners)
    assert (len(faces), len(corners)) == (face_count, corner_count)
    assert len(piece.folds) == face_count - 1
    found = folded_corners(piece, faces, flats, closing(piece))
    # All copies of a corner meet, within 1e-9 of the edge length.
    assert max(spread(points) for points in found.values()) <= 1e-9 * EDGE_MM
    # And they stand to each other as the definition says.
    for a, b in itertools.combinations(range(corner_count), 2):
        there = math.dist(found[a][0], found[b][0])
        assert abs(there - math.dist(corners[a], corners[b])) <= 1e-9 * EDGE_MM


@pytest.mark.parametrize("name", SOLIDS)
def test_net_does_not_close_when_one_fold_is_off(name: str) -> None:
    corners = with_edge(SOLIDS[name][0], EDGE_MM)
    piece, faces, flats = net_piece(corners)
    angles = closing(piece)
    angles[piece.folds[0].name] += 0.01
    found = folded_corners(piece, faces, flats, angles)
    assert max(spread(points) for points in found.values()) > 1e-3


@pytest.mark.parametrize(
    ("name", "tabled"),
    [
        # Tables of regular and semiregular solids, six digits; see the module's head.
        ("tetrahedron", [70.528779]),
        ("cube", [90.0]),
        ("octahedron", [109.471221]),
        ("icosahedron", [138.189685]),
        ("truncated tetrahedron", [70.5288, 109.4712]),
        ("cuboctahedron", [125.2644]),
        ("dodecahedron", [116.565051]),
        ("truncated cube", [90.0, 125.2644]),
        # Between hexagons that of the octahedron, to the squares its supplement's half and 90:
        # 180 - acos(1 / sqrt(3)) = 125.2644.
        ("truncated octahedron", [109.4712, 125.2644]),
    ],
)
def test_folds_are_the_tabled_dihedral_angles(name: str, tabled: list[float]) -> None:
    piece, _, _ = net_piece(with_edge(SOLIDS[name][0], EDGE_MM))
    inside = {round(180.0 - f.closing_deg, 4) for f in piece.folds}
    assert sorted(inside) == pytest.approx(tabled, abs=6e-5)


def test_octahedron_closes_with_the_tabled_angle() -> None:
    # 109.471221 degrees is rounded to six digits: half of the last digit, over the three
    # folds between two faces and edges of 50, is far below a thousandth of a millimetre.
    piece, faces, flats = net_piece(with_edge(octahedron(), EDGE_MM))
    angles = {f.name: 180.0 - 109.471221 for f in piece.folds}
    found = folded_corners(piece, faces, flats, angles)
    assert max(spread(points) for points in found.values()) < 1e-5


def test_square_pyramid_closes_at_its_apex() -> None:
    """Base 100, height 80 (worked by hand): slant sqrt(50^2 + 80^2) = 94.339811, lateral edge
    sqrt(2 * 50^2 + 80^2) = 106.770783, base dihedral atan(80 / 50) = 57.994617 degrees."""
    slant = math.hypot(50.0, 80.0)
    assert slant == pytest.approx(94.339811, abs=1e-6)
    turn = 180.0 - math.degrees(math.atan2(80.0, 50.0))
    assert 180.0 - turn == pytest.approx(57.994617, abs=1e-6)
    base: tuple[Point, ...] = ((0.0, 0.0), (100.0, 0.0), (100.0, 100.0), (0.0, 100.0))
    tips: tuple[Point, ...] = (
        (50.0, -slant),
        (100.0 + slant, 50.0),
        (50.0, 100.0 + slant),
        (-slant, 50.0),
    )
    panels = [Panel("base", "panel", base, (), HERE)]
    folds, hinges = [], []
    for i, tip in enumerate(tips):
        start, end = base[i], base[(i + 1) % 4]
        name = f"side {i + 1}"
        panels.append(Panel(name, "panel", (end, start, tip), (), HERE))
        folds.append(Fold(name, start, end, "mountain", turn, "base", name, HERE))
        hinges.append(Hinge(name, "base", name, start, end))
    facets = tuple(Facet(p.name, p.name, Region(polygon(p.ring))) for p in panels)
    piece = _piece(CARD, panels, folds, facets, hinges)
    poses = facet_poses(piece, closing(piece))
    apexes = [poses[f"side {i + 1}"].apply(lift(tip)) for i, tip in enumerate(tips)]
    assert spread(apexes) < 1e-9
    # Mountain folds go away from the front face: the apex is 80 below the middle of the base.
    assert apexes[0] == pytest.approx((50.0, -50.0, -80.0), abs=1e-9)
    corner = poses["base"].apply(lift(base[0]))
    assert math.dist(apexes[0], corner) == pytest.approx(106.770783, abs=1e-6)
    normals = [poses[f"side {i}"].normal for i in (1, 2)]
    lateral = 180.0 - math.degrees(math.acos(dot(normals[0], normals[1])))
    assert lateral == pytest.approx(106.313860, abs=1e-6)


# ---------------------------------------------------------------- hinges in a loop


def vertex_piece(sectors_deg: tuple[float, float, float, float], bends: str) -> Piece:
    """Four triangles round one point, each joined to the next; ``bends`` are m or v of the
    folds at 0, s1, s1 + s2, ... degrees."""
    rays = [0.0]
    for sector in sectors_deg[:-1]:
        rays.append(rays[-1] + sector)
    # Clockwise as seen: with y down, growing angles.
    tips = [(60.0 * math.cos(math.radians(r)), 60.0 * math.sin(math.radians(r))) for r in rays]
    centre: Point = (0.0, 0.0)
    panels, folds, hinges = [], [], []
    for i in range(4):
        ring = (centre, tips[i], tips[(i + 1) % 4])
        panels.append(Panel(f"sector {i + 1}", "panel", ring, (), HERE))
    for i in range(4):
        child, parent = f"sector {i + 1}", f"sector {(i - 1) % 4 + 1}"
        # The sector before a ray lies on the right hand of one who walks inwards along it.
        bend = "mountain" if bends[i] == "m" else "valley"
        name = f"fold {i + 1}"
        folds.append(Fold(name, tips[i], centre, bend, 180.0, parent, child, HERE))
        hinges.append(Hinge(name, parent, child, tips[i], centre))
    facets = tuple(Facet(p.name, p.name, Region(polygon(p.ring))) for p in panels)
    return _piece(CARD, panels, folds, facets, hinges)


@pytest.mark.parametrize(("alpha", "beta"), [(60.0, 60.0), (50.0, 70.0), (45.0, 80.0)])
def test_flat_foldable_vertex_closes_by_the_half_angle_law(alpha: float, beta: float) -> None:
    """Sectors a, b, 180 - a, 180 - b; folds 1 and 3 equal, 2 and 4 equal and opposite:
    tan(f2 / 2) = tan(f1 / 2) cos((a + b) / 2) / cos((a - b) / 2) (R. Foschi, T. C. Hull and
    J. S. Ku, 2022; formula from memory). 60, 60 at 90 degrees: 53.1301."""
    ratio = math.cos(math.radians((alpha + beta) / 2)) / math.cos(math.radians((alpha - beta) / 2))
    driven = 90.0
    follows = 2 * math.degrees(math.atan(math.tan(math.radians(driven / 2)) * ratio))
    if (alpha, beta) == (60.0, 60.0):
        assert follows == pytest.approx(53.1301, abs=1e-4)
    angles = {"fold 1": driven, "fold 2": follows, "fold 3": driven, "fold 4": follows}
    sectors = (alpha, beta, 180.0 - alpha, 180.0 - beta)
    # Fold 2 goes against the other three. Big-little-big: the folds beside the smallest
    # sector differ, so three and one the other way round cannot close.
    vertex = vertex_piece(sectors, "mvmm")
    assert loop_residual(vertex, {}) == 0.0
    assert loop_residual(vertex, angles) < 1e-9
    assert loop_residual(vertex, {**angles, "fold 2": follows + 0.1}) > 1e-3
    assert loop_residual(vertex_piece(sectors, "mmmv"), angles) > 1.0
