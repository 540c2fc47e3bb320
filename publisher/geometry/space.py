"""Rigid motion in space.

A flat piece is laid in space with its front face up: the flat point (x, y) becomes
(x, -y, 0), and the front face looks along +z. World coordinates are right-handed, in mm,
z up from the table.
"""

from __future__ import annotations

import math
from typing import TypeAlias

from msgspec import Struct

Vector: TypeAlias = tuple[float, float, float]
Matrix: TypeAlias = tuple[Vector, Vector, Vector]

IDENTITY: Matrix = ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))


def add(a: Vector, b: Vector) -> Vector:
    return (a[0] + b[0], a[1] + b[1], a[2] + b[2])


def sub(a: Vector, b: Vector) -> Vector:
    return (a[0] - b[0], a[1] - b[1], a[2] - b[2])


def scaled(a: Vector, k: float) -> Vector:
    return (a[0] * k, a[1] * k, a[2] * k)


def dot(a: Vector, b: Vector) -> float:
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]


def cross(a: Vector, b: Vector) -> Vector:
    return (
        a[1] * b[2] - a[2] * b[1],
        a[2] * b[0] - a[0] * b[2],
        a[0] * b[1] - a[1] * b[0],
    )


def norm(a: Vector) -> float:
    return math.sqrt(dot(a, a))


def unit(a: Vector) -> Vector:
    """The same direction with length 1; a zero vector raises ZeroDivisionError."""
    return scaled(a, 1.0 / norm(a))


def lift(point: tuple[float, float]) -> Vector:
    """A flat point (y down) in the body frame (front face up)."""
    return (point[0], -point[1], 0.0)


class Pose(Struct, frozen=True):
    """A rigid motion: first ``rotation`` (rows), then ``shift`` in mm."""

    rotation: Matrix = IDENTITY
    shift: Vector = (0.0, 0.0, 0.0)

    def apply(self, p: Vector) -> Vector:
        (a, b, c), (d, e, f), (g, h, i) = self.rotation
        x, y, z = p
        u, v, w = self.shift
        return (a * x + b * y + c * z + u, d * x + e * y + f * z + v, g * x + h * y + i * z + w)

    def turn(self, v: Vector) -> Vector:
        """Rotate a direction, without the shift."""
        (a, b, c), (d, e, f), (g, h, i) = self.rotation
        x, y, z = v
        return (a * x + b * y + c * z, d * x + e * y + f * z, g * x + h * y + i * z)

    def after(self, first: Pose) -> Pose:
        """The motion that does ``first`` and then this one."""
        # Written out: stories and views compose poses by the thousand.
        (a, b, c), (d, e, f), (g, h, i) = first.rotation
        (p, q, r), (s, t, u), (v, w, k) = self.rotation
        x, y, z = first.shift
        own = self.shift
        return Pose(
            (
                (p * a + q * d + r * g, p * b + q * e + r * h, p * c + q * f + r * i),
                (s * a + t * d + u * g, s * b + t * e + u * h, s * c + t * f + u * i),
                (v * a + w * d + k * g, v * b + w * e + k * h, v * c + w * f + k * i),
            ),
            (
                p * x + q * y + r * z + own[0],
                s * x + t * y + u * z + own[1],
                v * x + w * y + k * z + own[2],
            ),
        )

    def inverse(self) -> Pose:
        c = tuple(zip(*self.rotation, strict=True))
        back = Pose((c[0], c[1], c[2]))
        return Pose(back.rotation, scaled(back.turn(self.shift), -1.0))

    @property
    def normal(self) -> Vector:
        """Where the front face of a facet in this pose looks."""
        return self.turn((0.0, 0.0, 1.0))


def moved(by: Vector) -> Pose:
    return Pose(shift=by)


def turned(origin: Vector, axis: Vector, angle_deg: float) -> Pose:
    """A right-handed turn about the line through ``origin`` along ``axis`` (Rodrigues)."""
    x, y, z = unit(axis)
    angle = math.radians(angle_deg)
    c, s = math.cos(angle), math.sin(angle)
    k = 1.0 - c
    rotation: Matrix = (
        (c + x * x * k, x * y * k - z * s, x * z * k + y * s),
        (y * x * k + z * s, c + y * y * k, y * z * k - x * s),
        (z * x * k - y * s, z * y * k + x * s, c + z * z * k),
    )
    spin = Pose(rotation)
    return Pose(rotation, sub(origin, spin.turn(origin)))
