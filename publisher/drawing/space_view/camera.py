"""Parallel projection: where a point in space lies on paper, and how near it is."""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import cache

import numpy as np
import numpy.typing as npt
from msgspec import Struct

from publisher.geometry.space import Pose, Vector, cross, dot, unit

Array = npt.NDArray[np.float64]

# Where the light comes from, in the frame of the picture (right, up, towards the viewer), so
# that every view of a booklet is lit alike.
LIGHT: Vector = unit((-0.42, 0.80, 0.43))


class View(Struct, frozen=True):
    """A direction to look from: ``azimuth_deg`` from the front (-y) round to the right,
    ``elevation_deg`` up from the table, less than 90."""

    azimuth_deg: float
    elevation_deg: float


def half_round(angle_deg: float) -> float:
    """The same angle round the upright, in [-180, 180)."""
    return (angle_deg + 180.0) % 360.0 - 180.0


@cache
def _axes(view: View) -> tuple[Vector, Vector, Vector]:
    """Right, up and towards the viewer, of length 1."""
    a, e = math.radians(view.azimuth_deg), math.radians(view.elevation_deg)
    right = (math.cos(a), math.sin(a), 0.0)
    toward = (math.sin(a) * math.cos(e), -math.cos(a) * math.cos(e), math.sin(e))
    return right, cross(toward, right), toward


class Camera(Struct, frozen=True):
    """A view and a scale (paper mm per model mm).

    Paper coordinates are mm, x right, y down; the third coordinate is the distance towards
    the viewer, in mm on the same scale.
    """

    view: View
    scale: float

    @property
    def right(self) -> Vector:
        return _axes(self.view)[0]

    @property
    def up(self) -> Vector:
        return _axes(self.view)[1]

    @property
    def toward(self) -> Vector:
        """From the scene to the viewer."""
        return _axes(self.view)[2]

    @property
    def rows(self) -> Array:
        """The 3 x 3 matrix from world mm to paper x, paper y and nearness."""
        rows = np.array(_axes(self.view)) * self.scale
        rows[1] = -rows[1]
        return rows

    def project(self, points: Array) -> Array:
        """World points (n, 3) to paper x, y, nearness (n, 3)."""
        return np.asarray(points @ self.rows.T)

    def direction(self, v: Vector) -> tuple[float, float]:
        """A world direction on paper, y down, not scaled."""
        return (dot(self.right, v), -dot(self.up, v))

    def flat_maps(self, poses: Sequence[Pose]) -> tuple[Array, Array]:
        """The affine maps of flat pieces in their poses: matrices (n, 3, 2), shifts (n, 3)."""
        lifts = np.array([pose.rotation for pose in poses]).reshape(-1, 3, 3)[:, :, :2]
        lifts = lifts * (1.0, -1.0)
        shifts = np.array([pose.shift for pose in poses]).reshape(-1, 3)
        rows = self.rows
        return rows @ lifts, shifts @ rows.T

    def shades(self, normals: Array) -> Array:
        """0 in full light to 1 in the deepest shade, in twentieths, for the sides towards the
        viewer of facets whose front faces look along ``normals`` (n, 3) (Lambert's cosine
        law)."""
        right, up, toward = (along(axis, normals) for axis in _axes(self.view))
        lit = right * LIGHT[0] + up * LIGHT[1] + toward * LIGHT[2]
        lit = np.where(toward >= 0, lit, -lit)
        dark = np.minimum(1.0, np.maximum(0.0, (0.92 - lit) / 1.35))
        return np.asarray(np.round(dark * 20.0) / 20.0)


def along(axis: Vector, points: Array) -> Array:
    """How far each point (n, 3) lies along an axis of length 1."""
    return np.asarray(axis[0] * points[:, 0] + axis[1] * points[:, 1] + axis[2] * points[:, 2])
