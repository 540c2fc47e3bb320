"""Rigid folding in space against known solids and formulas.

Sources: of the 35 hexominoes 11 fold into a cube (counted since S. W. Golomb, "Polyominoes",
1965). The Miura cell: M. Schenk and S. D. Guest, "Geometry of Miura-folded metamaterials", PNAS
110 (2013) 3276-3281; formulas from memory, and the cell is checked to keep its flat lengths. Arc
lengths and sectors follow from the definitions.
"""

from __future__ import annotations

import itertools
import math

import pytest

from publisher.folding.follow import follow
from publisher.folding.linkage import linkage, links_of
from publisher.geometry.path import Arc, Point, Region, polygon
from publisher.geometry.space import Vector, lift
from publisher.model.folding import facet_poses
from publisher.model.types import Bend, Fold, Panel, Piece
from tests.assembly.build import HERE, piece_of

Cell = tuple[int, int]


# ---------------------------------------------------------------- nets of the cube


def free_hexominoes() -> set[tuple[Cell, ...]]:
    """Six squares, each joined to another by a side, up to turning and turning over."""
    found: set[frozenset[Cell]] = {frozenset({(0, 0)})}
    for _ in range(5):
        found = {
            shape | {(x + dx, y + dy)}
            for shape in found
            for x, y in shape
            for dx, dy in ((1, 0), (-1, 0), (0, 1), (0, -1))
            if (x + dx, y + dy) not in shape
        }
    return {min(_placed(shape, way) for way in range(8)) for shape in found}


def _placed(shape: frozenset[Cell], way: int) -> tuple[Cell, ...]:
    cells = list(shape)
    for _ in range(way % 4):
        cells = [(-y, x) for x, y in cells]
    if way >= 4:
        cells = [(-x, y) for x, y in cells]
    x0, y0 = min(x for x, _ in cells), min(y for _, y in cells)
    return tuple(sorted((x - x0, y - y0) for x, y in cells))


def net(cells: tuple[Cell, ...]) -> Piece:
    """Squares of 30, hung on each other from the first one, every fold a mountain of 90."""
    panels, folds = [], []
    for x, y in cells:
        a, b = 30.0 * x, 30.0 * y
        ring = ((a, b), (a + 30, b), (a + 30, b + 30), (a, b + 30))
        panels.append(Panel(f"{x} {y}", "panel", ring, (), HERE))
    hung = [cells[0]]
    for x, y in hung:
        a, b, c, d = 30.0 * x, 30.0 * y, 30.0 * (x + 1), 30.0 * (y + 1)
        # Each side of the parent, walked clockwise as seen: the parent on the right hand.
        for cell, start, end in (
            ((x, y - 1), (a, b), (c, b)),
            ((x + 1, y), (c, b), (c, d)),
            ((x, y + 1), (c, d), (a, d)),
            ((x - 1, y), (a, d), (a, b)),
        ):
            if cell in cells and cell not in hung:
                hung.append(cell)
                names = (f"{x} {y}", f"{cell[0]} {cell[1]}")
                folds.append(Fold(names[1], start, end, "mountain", 90.0, *names, HERE))
    return piece_of("net", Region(polygon(panels[0].ring)), panels, folds)


def test_eleven_of_thirty_five_hexominoes_fold_into_a_cube() -> None:
    shapes = free_hexominoes()
    assert len(shapes) == 35
    cubes = 0
    for cells in sorted(shapes):
        piece = net(cells)
        poses = facet_poses(piece, {f.name: 90.0 for f in piece.folds})
        middles = {
            tuple(round(v, 6) for v in poses[f"{x} {y}"].apply(lift((30 * x + 15, 30 * y + 15))))
            for x, y in cells
        }
        corners = {
            tuple(round(v, 6) + 0.0 for v in poses[p.name].apply(lift(corner)))
            for p in piece.panels
            for corner in p.ring
        }
        cubes += len(middles) == 6 and len(corners) == 8
    assert cubes == 11


# ---------------------------------------------------------------- the Miura cell


def miura(a: float, b: float, gamma_deg: float) -> tuple[Piece, dict[tuple[int, int], Point]]:
    """Two by two parallelograms. Lines along j are straight (lengths a), lines along i zigzag
    (lengths b)."""
    gamma = math.radians(gamma_deg)
    flat = {
        (i, j): (i * b * math.sin(gamma), j * a + (i % 2) * b * math.cos(gamma))
        for i in range(3)
        for j in range(3)
    }
    panels = []
    for i, j in itertools.product(range(2), repeat=2):
        ring = (flat[i, j], flat[i + 1, j], flat[i + 1, j + 1], flat[i, j + 1])
        panels.append(Panel(f"{i} {j}", "panel", ring, (), HERE))

    def fold(name: str, start: Cell, end: Cell, bend: Bend, parent: str, child: str) -> Fold:
        return Fold(name, flat[start], flat[end], bend, 180.0, parent, child, HERE)

    folds = [
        # The parent lies on the right hand of start -> end (x right, y down).
        fold("left", (1, 1), (0, 1), "mountain", "0 0", "0 1"),
        fold("right", (2, 1), (1, 1), "mountain", "1 0", "1 1"),
        fold("near", (1, 0), (1, 1), "valley", "0 0", "1 0"),
        fold("far", (1, 1), (1, 2), "mountain", "0 1", "1 1"),
    ]
    whole = (flat[0, 0], flat[1, 0], flat[2, 0], flat[2, 2], flat[1, 2], flat[0, 2])
    return piece_of("cell", Region(polygon(whole)), panels, folds), flat


MIURA = [
    # a, b, gamma, theta: H, S, L, V, and the folds along the zigzag and the straight lines.
    (1, 1, 60, 30, 0.433013, 0.832050, 0.901388, 0.554700, 60.0, 32.2042),
    (1, 1, 60, 45, 0.612372, 0.774597, 0.790569, 0.632456, 90.0, 53.1301),
    (1, 1, 60, 60, 0.750000, 0.654654, 0.661438, 0.755929, 120.0, 81.7868),
]


@pytest.mark.parametrize("row", MIURA)
def test_the_miura_cell(row: tuple[float, ...]) -> None:
    a, b, gamma_deg, theta_deg, height, s, length, v, zigzag, straight = row
    gamma, theta = math.radians(gamma_deg), math.radians(theta_deg)
    # The four formulas give the tabled values.
    tan2 = math.cos(theta) ** 2 * math.tan(gamma) ** 2
    assert a * math.sin(theta) * math.sin(gamma) == pytest.approx(height, abs=1e-6)
    assert b * math.cos(theta) * math.tan(gamma) / math.sqrt(1 + tan2) == pytest.approx(s, abs=1e-6)
    assert a * math.sqrt(1 - (math.sin(theta) * math.sin(gamma)) ** 2) == pytest.approx(
        length, abs=1e-6
    )
    assert b / math.sqrt(1 + tan2) == pytest.approx(v, abs=1e-6)

    piece, flat = miura(a * 50.0, b * 50.0, gamma_deg)
    made = linkage(links_of(piece), ("", "0 0"))
    bends = {("", f.name): 1 for f in piece.folds}
    # Driven by one zigzag fold, the other three follow.
    found = follow(made, {}, {("", "left"): 2 * theta_deg}, bends)
    assert found.closes
    angles = {fold: angle for (_, fold), angle in found.angles.items()}
    assert [angles["left"], angles["right"]] == pytest.approx([zigzag] * 2, abs=1e-7)
    assert [angles["near"], angles["far"]] == pytest.approx([straight] * 2, abs=5e-5)
    poses = made.poses(found.angles)
    there: dict[Cell, Vector] = {}
    for i, j in flat:
        home = f"{min(i, 1)} {min(j, 1)}"
        there[i, j] = poses["", home].apply(lift(flat[i, j]))
    height = 50.0 * a * math.sin(theta) * math.sin(gamma)
    s = 50.0 * b * math.cos(theta) * math.tan(gamma) / math.sqrt(1 + tan2)
    length = 50.0 * a * math.sqrt(1 - (math.sin(theta) * math.sin(gamma)) ** 2)
    v = 50.0 * b / math.sqrt(1 + tan2)
    for one, other in itertools.combinations(flat, 2):
        tabled = [(i * s, j * length + (i % 2) * v, (j % 2) * height) for i, j in (one, other)]
        assert math.dist(there[one], there[other]) == pytest.approx(math.dist(*tabled), abs=1e-9)


# ---------------------------------------------------------------- curved paper


def test_the_arcs_of_a_pillow() -> None:
    """A panel of 80 with ends that stand off by 20: radius 50, arc 2 * 50 * asin(0.8) = 92.7295."""
    arc = Arc((0.0, 0.0), (80.0, 0.0), (40.0, 30.0), True)
    assert arc.radius_mm == pytest.approx(50.0)
    assert arc.length_mm == pytest.approx(92.7295, abs=1e-4)


def test_the_sector_of_a_cone() -> None:
    """Radius 30, height 40: slant 50, sector 360 * 30 / 50 = 216 degrees; its arc goes round the
    base, 2 * pi * 30."""
    end = (50.0 * math.cos(math.radians(216.0)), 50.0 * math.sin(math.radians(216.0)))
    arc = Arc((50.0, 0.0), end, (0.0, 0.0), True)
    assert arc.sweep_deg == pytest.approx(216.0)
    assert arc.length_mm == pytest.approx(2.0 * math.pi * 30.0)
    # With the height in place of the slant it would be 270 degrees, and not fit.
    assert 360.0 * 30.0 / 40.0 == 270.0
