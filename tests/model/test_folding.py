"""Sizes of closed pieces: papers that lie on each other are counted."""

from __future__ import annotations

import pytest

from publisher.model.folding import closed_size
from tests.handmade import drawer, envelope, sleeve, sleeve_mat


@pytest.mark.parametrize("depth", [12.0, 22.0, 40.0])
def test_drawer_outside_is_inside_and_calipers(depth: float) -> None:
    assert closed_size(drawer(depth)) == pytest.approx((124.8, 84.8, depth + 0.4))


def test_sleeve_outside_is_its_loop_and_calipers() -> None:
    # Inside 85.8 x 23.4; one caliper outside each of the four panels, none for the overlap.
    assert closed_size(sleeve()) == pytest.approx((124.8, 85.8 + 0.8, 23.4 + 0.8))


def test_envelope_is_as_thick_as_its_thickest_place() -> None:
    # Near the sides: centre, side, bottom flap and (in the overlap of 11) top flap.
    assert closed_size(envelope()) == pytest.approx((154.0, 111.0, 4 * 0.15))


def test_flat_piece_is_one_caliper_thick() -> None:
    assert closed_size(sleeve_mat()) == pytest.approx((116.8, 77.8, 0.15))
