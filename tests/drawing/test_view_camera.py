"""Projection and light of the step views."""

from __future__ import annotations

import math

import numpy as np
import pytest

from publisher.drawing.space_view.camera import Camera, View
from publisher.drawing.space_view.scales import SCALES
from publisher.drawing.space_view.viewpoint import VIEWS
from publisher.geometry.space import cross, dot, norm, turned


@pytest.mark.parametrize("view", [*VIEWS, View(0.0, 0.0), View(179.0, 89.0)])
def test_axes_are_orthonormal_and_right_handed(view: View) -> None:
    camera = Camera(view, 1.0)
    axes = (camera.right, camera.up, camera.toward)
    for axis in axes:
        assert norm(axis) == pytest.approx(1.0, abs=1e-12)
    assert cross(camera.right, camera.up) == pytest.approx(camera.toward, abs=1e-12)


@pytest.mark.parametrize("view", VIEWS)
def test_foreshortening_of_the_axes_obeys_the_sum_of_squares(view: View) -> None:
    """For any orthographic axonometry the squares of the three axis ratios add up to 2
    (Gauss; it follows from the projection matrix being two rows of a rotation)."""
    camera = Camera(view, 1.0)
    ratios = [np.hypot(*camera.project(np.eye(3))[k, :2]) for k in range(3)]
    assert sum(r * r for r in ratios) == pytest.approx(2.0, abs=1e-12)


def test_isometric_ratios() -> None:
    """Azimuth 45 and elevation atan(1/sqrt 2) = 35.264 degrees is the isometric projection:
    all three axes at sqrt(2/3) = 0.8165 (ISO 5456-3)."""
    camera = Camera(View(45.0, math.degrees(math.atan(1.0 / math.sqrt(2.0)))), 1.0)
    for k in range(3):
        shown = camera.project(np.eye(3))[k, :2]
        assert np.hypot(*shown) == pytest.approx(math.sqrt(2.0 / 3.0), abs=1e-12)


def test_up_is_up_and_right_is_right() -> None:
    camera = Camera(View(-24.0, 42.0), 0.5)
    origin, up, right = camera.project(np.array([[0, 0, 0], [0, 0, 10.0], [10.0, 0, 0]]))
    assert up[1] < origin[1]
    assert up[0] == pytest.approx(0.0, abs=1e-12)
    assert right[0] > 0
    assert up[1] == pytest.approx(-10 * 0.5 * math.cos(math.radians(42.0)))


def test_what_is_nearer_to_the_viewer_has_the_larger_third_coordinate() -> None:
    camera = Camera(View(-24.0, 42.0), 1.0)
    near, far = camera.project(np.array([[-1.0, -2.0, 3.0], [1.0, 2.0, -3.0]]))
    assert near[2] > far[2]


def test_flat_maps_agree_with_points_in_space() -> None:
    camera = Camera(View(30.0, 50.0), 0.7)
    pose = turned((1.0, 2.0, 3.0), (1.0, 1.0, 0.5), 77.0)
    (matrix,), (shift,) = camera.flat_maps([pose])
    for flat in ((0.0, 0.0), (12.0, -3.0), (5.0, 40.0)):
        space = np.array(pose.apply((flat[0], -flat[1], 0.0)))[None, :]
        assert matrix @ np.array(flat) + shift == pytest.approx(camera.project(space)[0])


def test_light_falls_from_above_and_from_the_left() -> None:
    camera = Camera(View(-24.0, 42.0), 1.0)
    looks = [(0.0, 0.0, 1.0), (-1.0, 0.0, 0.0), (0.0, -1.0, 0.0)]
    top, left, front = camera.shades(np.array(looks)).tolist()
    assert top < left < front
    assert all(0.0 <= s <= 1.0 for s in (top, left, front))


def test_both_sides_of_a_sheet_are_lit_as_the_viewer_sees_them() -> None:
    camera = Camera(View(-24.0, 42.0), 1.0)
    over, under = camera.shades(np.array([(0.0, 0.0, 1.0), (0.0, 0.0, -1.0)])).tolist()
    assert under == over
    assert dot(camera.toward, (0.0, 0.0, 1.0)) > 0


def test_scales_are_renards_series() -> None:
    """ISO 3, R20 (values from memory), downwards from 1."""
    r20 = "10 9 8 7.1 6.3 5.6 5 4.5 4 3.55 3.15 2.8 2.5 2.24 2 1.8 1.6 1.4 1.25 1.12"
    assert list(SCALES[:20]) == pytest.approx([float(v) / 10.0 for v in r20.split()])
    assert list(SCALES[20:40]) == pytest.approx([v / 10.0 for v in SCALES[:20]])
