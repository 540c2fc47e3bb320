"""Parallel projection: where a point in space lies on paper, and how near it is."""

from __future__ import annotations

import math

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


class Camera(Struct, frozen=True):
    """A view and a scale (paper mm per model mm).

    Paper coordinates are mm, x right, y down; the third coordinate is the distance towards
    the viewer, in mm on the same scale.
    """

    view: View
    scale: float

    @property
    def right(self) -> Vector:
        a = math.radians(self.view.azimuth_deg)
        return (math.cos(a), math.sin(a), 0.0)

    @property
    def toward(self) -> Vector:
        """From the scene to the viewer."""
        a, e = math.radians(self.view.azimuth_deg), math.radians(self.view.elevation_deg)
        return (math.sin(a) * math.cos(e), -math.cos(a) * math.cos(e), math.sin(e))

    @property
    def up(self) -> Vector:
        return cross(self.toward, self.right)

    @property
    def rows(self) -> Array:
        """The 3 x 3 matrix from world mm to paper x, paper y and nearness."""
        rows = np.array([self.right, self.up, self.toward]) * self.scale
        rows[1] = -rows[1]
        return rows

    def project(self, points: Array) -> Array:
        """World points (n, 3) to paper x, y, nearness (n, 3)."""
        return np.asarray(points @ self.rows.T)

    def direction(self, v: Vector) -> tuple[float, float]:
        """A world direction on paper, y down, not scaled."""
        return (dot(self.right, v), -dot(self.up, v))

    def flat_map(self, pose: Pose) -> tuple[Array, Array]:
        """The affine map of a flat piece in a pose: matrix (3, 2) and shift (3,)."""
        rotation = np.array(pose.rotation)
        lift = np.column_stack((rotation[:, 0], -rotation[:, 1]))
        rows = self.rows
        return rows @ lift, rows @ np.array(pose.shift)

    def shade(self, normal: Vector) -> float:
        """0 in full light to 1 in the deepest shade, in twentieths, for the side towards the
        viewer of a facet whose front face looks along ``normal`` (Lambert's cosine law)."""
        seen = (dot(self.right, normal), dot(self.up, normal), dot(self.toward, normal))
        lit = dot(seen, LIGHT) if seen[2] >= 0 else -dot(seen, LIGHT)
        return round(min(1.0, max(0.0, (0.92 - lit) / 1.35)) * 20) / 20
