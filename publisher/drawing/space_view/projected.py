"""Facets on paper: the area of each, its face, its shade, and how near it lies."""

from __future__ import annotations

from collections.abc import Mapping, Sequence, Set
from typing import Any

import numpy as np
import shapely
from msgspec import Struct
from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from publisher.assembly.types import FacetId
from publisher.drawing.space_view.camera import Array, Camera, along
from publisher.drawing.space_view.many import Geometries, many
from publisher.drawing.space_view.shapes import PieceShape
from publisher.drawing.space_view.stage import Actor
from publisher.model.types import Face

_EDGE_ON = 1e-3  # sine of the angle between facet and line of sight
_EMPTY = Polygon()


class Projected(Struct, frozen=True):
    """One facet on paper. ``plane`` gives nearness as a x + b y + c; None when edge-on.
    ``clear``: drawn as if it were glass."""

    actor: Actor
    matrix: Array
    shift: Array
    area: BaseGeometry
    plane: Array | None
    face: Face
    shade: float
    ghost: bool = False
    clear: bool = False

    def flat_to_paper(self, geometry: Any) -> Any:
        """Carry flat geometry of the piece (or an array of it) onto paper."""

        def carry(points: Array) -> Array:
            return np.asarray(points @ self.matrix[:2].T + self.shift[:2])

        return shapely.transform(geometry, carry)

    def nearness(self, points: Array) -> Array:
        """Of paper points (n, 2) on the facet; only where it is not edge-on."""
        assert self.plane is not None
        return np.asarray(points @ self.plane[:2] + self.plane[2])


def maps_of(items: Sequence[Projected]) -> Array:
    """The map of each facet, from flat to paper and nearness, in a row (n, 9)."""
    matrices = np.array([item.matrix for item in items]).reshape(-1, 6)
    return np.hstack((matrices, np.array([item.shift for item in items]).reshape(-1, 3)))


def project(
    actors: Sequence[Actor],
    shapes: Mapping[str, PieceShape],
    camera: Camera,
    ghost: bool = False,
    clear: Set[FacetId] = frozenset(),
) -> list[Projected]:
    """Every facet on paper, in the order given."""
    if not actors:
        return []
    matrices, shifts = camera.flat_maps([actor.pose for actor in actors])
    normals = np.array([actor.pose.rotation for actor in actors])[:, :, 2]
    slants = along(camera.toward, normals)
    areas = carried([shapes[a.piece.name].facets[a.facet].paper for a in actors], matrices, shifts)
    level = np.abs(slants) > _EDGE_ON
    areas[~level] = _EMPTY
    planes = np.zeros((len(actors), 3))
    planes[level] = _planes(matrices[level], shifts[level])
    faces: list[Face] = ["front" if front else "back" for front in (slants >= 0).tolist()]
    return [
        Projected(
            actor,
            matrix,
            shift,
            area,
            plane if flat else None,
            face,
            shade,
            ghost,
            not ghost and actor.id in clear,
        )
        for actor, matrix, shift, area, plane, flat, face, shade in zip(
            actors,
            matrices,
            shifts,
            areas.tolist(),
            planes,
            level.tolist(),
            faces,
            camera.shades(normals).tolist(),
            strict=True,
        )
    ]


def carried(
    flat: Sequence[BaseGeometry] | Geometries, matrices: Array, shifts: Array
) -> Geometries:
    """Flat geometries onto paper, each by its own map (as ``Camera.flat_maps`` gives them)."""
    geometries = many(flat)
    points, of = shapely.get_coordinates(geometries, return_index=True)
    x, y = points[:, :1], points[:, 1:]
    placed = matrices[of, :2, 0] * x + matrices[of, :2, 1] * y + shifts[of, :2]
    found: Geometries = shapely.set_coordinates(geometries, placed)
    return found


def _planes(matrices: Array, shifts: Array) -> Array:
    """Nearness as a function of the place on paper: slopes and constants (n, 3), by Cramer's
    rule."""
    (a, b), (c, d), (e, f) = np.moveaxis(matrices, 0, -1)
    whole = a * d - b * c
    across, down = (e * d - f * c) / whole, (f * a - e * b) / whole
    constant = shifts[:, 2] - across * shifts[:, 0] - down * shifts[:, 1]
    return np.column_stack((across, down, constant))
