"""The hand-built pieces agree with themselves and with the figures of their patterns."""

from __future__ import annotations

import math

import pytest

from publisher.geometry.measure import path_bounds, signed_area
from publisher.geometry.space import lift
from publisher.model.folding import closed_angles, closed_box, facet_poses
from publisher.model.types import Piece
from tests.handmade import drawer, envelope, sleeve, sleeve_mat

PIECES = [drawer(), sleeve(), sleeve_mat(), envelope(), drawer(30.0), sleeve(30.0)]


@pytest.mark.parametrize("piece", PIECES, ids=lambda p: p.name)
def test_facets_tile_the_outline(piece: Piece) -> None:
    assert signed_area(piece.outline.outer) > 0
    total = sum(signed_area(f.region.outer) for f in piece.facets)
    assert total == pytest.approx(signed_area(piece.outline.outer), abs=1e-9)


@pytest.mark.parametrize("piece", PIECES, ids=lambda p: p.name)
def test_rings_are_joined_end_to_end(piece: Piece) -> None:
    for path in [piece.outline.outer, *(o.path for o in piece.openings)]:
        for a, b in zip(path.segments, path.segments[1:] + path.segments[:1], strict=True):
            assert math.dist(a.end, b.start) < 1e-9
    assert all(signed_area(o.path) > 0 for o in piece.openings)
    assert piece.bounds[:2] == pytest.approx((0.0, 0.0))


@pytest.mark.parametrize(
    ("piece", "size"),
    [(drawer(), (168, 128)), (sleeve(), (124.8, 230.4)), (sleeve_mat(), (116.8, 77.8))],
    ids=["drawer", "sleeve", "mat"],
)
def test_blank_sizes(piece: Piece, size: tuple[float, float]) -> None:
    assert piece.bounds[2:] == pytest.approx(size)


def test_envelope_blank_is_as_planned() -> None:
    assert envelope().bounds[2:] == pytest.approx((190, 233))


def test_drawer_closes_to_its_outside() -> None:
    least, greatest = closed_box(drawer())
    size = [g - low for low, g in zip(least, greatest, strict=True)]
    assert size == pytest.approx([124.8, 84.8, 22.4])


def test_drawer_tabs_come_to_lie_on_the_walls() -> None:
    piece = drawer()
    poses = facet_poses(piece, closed_angles(piece))
    for tab in ("tab 1", "tab 2", "tab 3", "tab 4"):
        wall = piece.panel(tab).meets
        assert wall is not None
        to_wall = poses[wall[0]].inverse()
        ring = [to_wall.apply(poses[tab].apply(lift(p))) for p in piece.panel(tab).ring]
        assert all(abs(p[2]) < 1e-9 for p in ring)
        x0, y0, x1, y1 = path_bounds(piece.facet(wall[0]).region.outer)
        assert all(x0 - 1e-9 <= p[0] <= x1 + 1e-9 and y0 - 1e-9 <= -p[1] <= y1 + 1e-9 for p in ring)


def test_sleeve_closes_on_itself() -> None:
    piece = sleeve()
    poses = facet_poses(piece, closed_angles(piece))
    first = [poses["panel 1"].apply(lift(p)) for p in piece.panel("panel 1").ring[:2]]
    last = [poses["panel 4"].apply(lift(p)) for p in piece.panel("panel 4").ring[:1:-1]]
    for a, b in zip(first, last, strict=True):
        assert math.dist(a, b) < 1e-9
